using System.Runtime.InteropServices;

namespace Seamwright.GroundTruth.Making;

/// <summary>The few calls of the synthesiser's library that are needed; names as in its C header.</summary>
internal static partial class FluidLibrary
{
    private const string Library = "libfluidsynth.so.3";

    public static bool IsThere => NativeLibrary.TryLoad(Library, out _);

    [LibraryImport(Library, EntryPoint = "new_fluid_settings")]
    public static partial nint NewSettings();

    [LibraryImport(Library, EntryPoint = "delete_fluid_settings")]
    public static partial void DeleteSettings(nint settings);

    [LibraryImport(Library, EntryPoint = "fluid_settings_setnum", StringMarshalling = StringMarshalling.Utf8)]
    public static partial int SetNumber(nint settings, string name, double value);

    [LibraryImport(Library, EntryPoint = "fluid_settings_setint", StringMarshalling = StringMarshalling.Utf8)]
    public static partial int SetInteger(nint settings, string name, int value);

    [LibraryImport(Library, EntryPoint = "new_fluid_synth")]
    public static partial nint NewSynth(nint settings);

    [LibraryImport(Library, EntryPoint = "delete_fluid_synth")]
    public static partial void DeleteSynth(nint synth);

    [LibraryImport(Library, EntryPoint = "fluid_synth_sfload", StringMarshalling = StringMarshalling.Utf8)]
    public static partial int LoadSoundfont(nint synth, string path, int resetPresets);

    [LibraryImport(Library, EntryPoint = "fluid_synth_program_select")]
    public static partial int SelectProgram(nint synth, int channel, int soundfont, int bank, int program);

    [LibraryImport(Library, EntryPoint = "fluid_synth_pitch_wheel_sens")]
    public static partial int SetBendRange(nint synth, int channel, int semitones);

    [LibraryImport(Library, EntryPoint = "fluid_synth_pitch_bend")]
    public static partial int Bend(nint synth, int channel, int value);

    [LibraryImport(Library, EntryPoint = "fluid_synth_noteon")]
    public static partial int NoteOn(nint synth, int channel, int key, int velocity);

    [LibraryImport(Library, EntryPoint = "fluid_synth_set_gen")]
    public static partial int Offset(nint synth, int channel, int generator, float value);

    [LibraryImport(Library, EntryPoint = "fluid_synth_all_sounds_off")]
    public static partial int SoundsOff(nint synth, int channel);

    [LibraryImport(Library, EntryPoint = "fluid_synth_system_reset")]
    public static partial int Reset(nint synth);

    [LibraryImport(Library, EntryPoint = "fluid_synth_write_float")]
    public static unsafe partial int Write(nint synth, int length, float* left, int leftOffset, int leftStep, float* right, int rightOffset, int rightStep);

    [LibraryImport(Library, EntryPoint = "fluid_set_log_function")]
    public static partial nint SetLog(int level, nint function, nint data);
}
