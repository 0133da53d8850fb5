using Seamwright.Core.Instruments;
using Seamwright.Core.Units;

namespace Seamwright.VoiceTrial.Playing;

/// <summary>All that is set at one moment of a take.</summary>
internal readonly record struct Moment(Side Side, Centimetres Travel, double LipHertz, double Pascal);
