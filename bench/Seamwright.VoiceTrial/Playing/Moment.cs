using Seamwright.Core.Instruments;
using Seamwright.Core.Units;

namespace Seamwright.VoiceTrial.Playing;

/// <summary>All that is set at one moment of a take.</summary>
/// <param name="Side">The tube.</param>
/// <param name="Travel">The slide.</param>
/// <param name="LipHertz">The lips' own frequency.</param>
/// <param name="Pascal">Pressure in the mouth.</param>
/// <param name="Scale">All resonances times this: the calibration of the voice, not of the instrument.</param>
internal readonly record struct Moment(Side Side, Centimetres Travel, double LipHertz, double Pascal, double Scale);
