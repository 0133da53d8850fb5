using System.Globalization;
using Microsoft.AspNetCore.Http;
using Seamwright.Core;

namespace Seamwright.Studio.Serving;

/// <summary>Reads a form's fields: what cannot be is told, and its value stays as it was.</summary>
/// <param name="form">As it came.</param>
internal sealed class FormFields(IFormCollection form)
{
    private const string Stays = "It stays as it was.";

    /// <summary>One for each field that cannot be.</summary>
    public List<Problem> Problems { get; } = [];

    /// <summary>One of the allowed values.</summary>
    public string Among(string name, IEnumerable<string> allowed, string now)
    {
        var value = form[name].ToString();
        if (allowed.Contains(value)) return value;
        if (value.Length > 0) Problems.Add(new(name, $"'{value}' is not known here.", Stays));
        return now;
    }

    /// <summary>A number in a range; null where the field is empty.</summary>
    public double? Number(string name, double low, double high, double? now)
    {
        var text = form[name].ToString().Trim();
        if (text.Length == 0) return null;
        if (double.TryParse(text.Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out var value) && value >= low && value <= high) return value;
        Problems.Add(new(name, $"is '{text}'; it must be a number from {low} to {high}.", Stays));
        return now;
    }

    /// <summary>Words without what stands around them.</summary>
    /// <param name="name">Of the field.</param>
    /// <param name="longest">Most letters.</param>
    /// <param name="now">What stays where it is longer.</param>
    public string Text(string name, int longest, string now)
    {
        var text = form[name].ToString().Trim();
        if (text.Length <= longest) return text;
        Problems.Add(new(name, $"has {text.Length} letters; there is room for {longest}.", Stays));
        return now;
    }
}
