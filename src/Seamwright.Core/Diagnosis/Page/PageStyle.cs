using System.Text;

namespace Seamwright.Core.Diagnosis.Page;

/// <summary>The report's style sheet: ink on paper by day, chalk on slate by night; no font or picture from anywhere.</summary>
public static class PageStyle
{
    internal static string Css { get; } = $$"""
        :root { color-scheme: light dark; {{ReportInks.Day.Css()}} }
        @media (prefers-color-scheme: dark) { :root { {{ReportInks.Night.Css()}} } }
        @media print { :root { color-scheme: light; {{ReportInks.Printed.Css()}} } }
        * { box-sizing: border-box; }
        body { margin: 0; background: var(--paper); color: var(--ink); font: 16px/1.5 Georgia, "Times New Roman", serif; }
        main, header, footer { max-width: 70rem; margin: 0 auto; padding: 0 1.25rem; }
        header { padding-top: 2rem; }
        h1 { font-size: 1.9rem; font-weight: normal; margin: 0; overflow-wrap: anywhere; }
        .under { color: var(--faint); margin: .2rem 0 1.1rem; overflow-wrap: anywhere; }
        h2 { font-size: 1.2rem; font-weight: normal; font-style: italic; margin: 2.4rem 0 .7rem; padding-top: .5rem; border-top: 2px dashed var(--rule); break-after: avoid; }
        h3 { font-size: 1.05rem; margin: 0; font-weight: normal; }
        main > p, footer p, main > ul li, ol.first li { max-width: 46rem; } main > p.fine, main > ul.key li { max-width: none; }
        .overall { font-size: 1.1rem; margin: 1.2rem 0 0; }
        ol.first { padding-left: 1.6rem; font-size: 1.1rem; } ol.first li { padding: .3rem 0; }
        ul { padding-left: 1.3rem; }
        .problem { border-left: 3px solid var(--watch); padding-left: .8rem; margin: .6rem 0; }
        .verdict { display: inline-block; white-space: nowrap; } .verdict svg { vertical-align: -2px; } .short { white-space: nowrap; }
        .clean { color: var(--clean); } .watch { color: var(--watch); } .fault { color: var(--fault); } .open { color: var(--open); }
        .mark-filled { fill: currentColor; } .mark-hollow { fill: none; stroke: currentColor; stroke-width: 1.6; } .mark-line { fill: none; stroke: currentColor; stroke-width: 1.8; }
        .key { display: flex; flex-wrap: wrap; gap: .2rem 1.4rem; padding: 0; margin: .3rem 0 .6rem; list-style: none; font-size: .9rem; }
        .fine, .basis { font-size: .85rem; color: var(--faint); } .basis { margin: .25rem 0 0; display: block; }
        .music svg { display: block; width: 100%; height: auto; margin: 0 0 .7rem; break-inside: avoid; overflow: visible; } .music svg { fill: currentColor; } .music text { fill: var(--ink); }
        .narrow { display: none; } .shapes { position: absolute; }
        .troubles { display: grid; grid-template-columns: repeat(auto-fill, minmax(20.5rem, 1fr)); gap: 2rem 1.6rem; }
        .trouble { break-inside: avoid; min-width: 0; } .trouble p { margin: .25rem 0; } .trouble .pair { color: var(--faint); margin: 0; }
        .picture { display: block; width: 100%; height: auto; margin: .5rem 0; }
        .picture text { font: {{PictureInk.TextSize}}px/1 "Helvetica Neue", Arial, sans-serif; fill: var(--ink); } .picture text.axis { fill: var(--faint); }
        {{PictureRules()}}
        .figures { display: flex; flex-wrap: wrap; gap: 0 1rem; list-style: none; padding: 0; margin: .2rem 0; font-size: .85rem; font-variant-numeric: tabular-nums; }
        table { border-collapse: collapse; width: 100%; font-size: .8rem; }
        caption { text-align: left; color: var(--faint); padding-bottom: .4rem; }
        th { text-align: left; font-weight: normal; font-style: italic; color: var(--faint); border-bottom: 1px solid var(--rule); padding: .2rem .5rem .2rem 0; vertical-align: bottom; }
        td { padding: .2rem .5rem .2rem 0; border-bottom: 1px solid var(--rule); vertical-align: top; }
        td.figure, th.figure { text-align: right; font-variant-numeric: tabular-nums; } td.figure { white-space: nowrap; } td.say { min-width: 10.5rem; } a { color: inherit; } a:focus-visible { outline: 2px solid var(--ink); outline-offset: 2px; }
        dl { max-width: 46rem; } dt { font-style: italic; } dd { margin: 0 0 .4rem 1.2rem; }
        .care { border-top: 2px dashed var(--rule); margin-top: 2.5rem; padding-top: .8rem; padding-bottom: 2rem; }
        @media screen and (max-width: 760px) {
          .wide { display: none; } .narrow { display: block; } header { padding-top: 1.2rem; } h1 { font-size: 1.45rem; }
          .troubles { grid-template-columns: 1fr; }
        }
        @media screen and (max-width: 1150px) {
          table, caption, tbody, td { display: block; } thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
          tr { display: flex; flex-wrap: wrap; gap: 0 1rem; border-bottom: 1px solid var(--rule); padding: .5rem 0; }
          td, td.figure { border: 0; padding: .05rem 0; text-align: left; white-space: normal; } td[data-of]::before { content: attr(data-of) " "; color: var(--faint); font-style: italic; } td[data-unit]::after { content: " " attr(data-unit); } td.none { display: none; }
          td.say { flex-basis: 100%; min-width: 0; }
        }
        @media print {
          @page { margin: 14mm; }
          body { font-size: 9.5pt; line-height: 1.4; } main, header, footer { max-width: none; padding: 0; } header { padding-top: 0; } h1 { font-size: 17pt; } h2 { margin: .9rem 0 .3rem; padding-top: .25rem; } ol.first, .overall { font-size: 10.5pt; } .overall, main > p.fine { margin: .3rem 0; }
          .troubles { grid-template-columns: 1fr 1fr; gap: .7rem 1.4rem; } .figures { gap: 0 .8rem; } dl { max-width: none; } dt { float: left; clear: left; margin-right: .4rem; } dt::after { content: ":"; } dd { margin: 0; } h2 + .fine { break-after: avoid; } .care { margin-top: .8rem; padding: .3rem 0 0; font-size: 8pt; } .care p { margin: .1rem 0; } .trouble p { margin: .1rem 0; } .trouble, .figures, .basis, .fine { font-size: 7.5pt; line-height: 1.3; }
          table { font-size: 6.8pt; line-height: 1.25; } td.say { min-width: 8rem; } td, th { padding: .08rem .35rem .08rem 0; } thead { display: table-header-group; } .verdict svg { width: 9px; height: 9px; vertical-align: -1px; }
          tr, li, .problem, dd { break-inside: avoid; } .music svg { margin-bottom: .2rem; } #measures ~ p, dl { font-size: 8pt; line-height: 1.3; }
        }
        """;

    /// <summary>Rules and colours for the pictures alone, for a page with a style sheet of its own: day and night by the reader's system, unless the page says which in <c>data-light</c>.</summary>
    public static string Pictures { get; } = $$"""
        .picture { {{ReportInks.Day.Css()}} } @media (prefers-color-scheme: dark) { :root:not([data-light="day"]) .picture { {{ReportInks.Night.Css()}} } } :root[data-light="night"] .picture { {{ReportInks.Night.Css()}} }
        .picture text { font: {{PictureInk.TextSize}}px/1 "Helvetica Neue", Arial, sans-serif; fill: var(--ink); } .picture text.axis { fill: var(--faint); }
        {{PictureRules()}}
        """;

    // Shapes of the pictures: the same table inks the printed ones.
    private static string PictureRules()
    {
        var css = new StringBuilder();
        foreach (var (name, ink) in PictureInk.ByClass)
        {
            css.Append($".picture .{name} {{ fill: {Colour(ink.Fill)}; stroke: {Colour(ink.Stroke)};");
            if (ink.Width > 0) css.Append($" stroke-width: {ink.Width}; stroke-linejoin: round;");
            if (ink.Dashes.Length > 0) css.Append($" stroke-dasharray: {ink.Dashes};");
            css.Append(" } ");
        }

        return css.ToString().TrimEnd();
    }

    private static string Colour(string name) => name.Length == 0 ? "none" : $"var(--{name})";
}
