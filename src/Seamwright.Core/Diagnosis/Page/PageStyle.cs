namespace Seamwright.Core.Diagnosis.Page;

/// <summary>The report's style sheet: ink on paper by day, chalk on slate by night; no font or picture from anywhere.</summary>
internal static class PageStyle
{
    // Inks were chosen so that each keeps at least 4.5 : 1 against its ground (WCAG 2.2, 1.4.3), and differ in lightness as well as hue.
    public const string Css = """
        :root { color-scheme: light dark; --paper: #faf7f0; --ink: #26221c; --faint: #6b6458; --rule: #ddd5c6; --note: #d9cfba;
          --line: #26221c; --level: #cfd6d3; --clean: #2c5f7c; --watch: #86590a; --fault: #a02c22; --open: #625c66; --wash: #f2ecdf; }
        @media (prefers-color-scheme: dark) { :root { --paper: #1d2021; --ink: #e9e4d8; --faint: #a9a294; --rule: #3b3f40; --note: #4b4a40;
          --line: #f0ead9; --level: #34403f; --clean: #8fc3dd; --watch: #e0b45e; --fault: #f19a86; --open: #b9b2c0; --wash: #26292a; } }
        * { box-sizing: border-box; }
        body { margin: 0; background: var(--paper); color: var(--ink); font: 16px/1.5 Georgia, "Times New Roman", serif; }
        main, header, footer { max-width: 68rem; margin: 0 auto; padding: 0 1.25rem; }
        header { padding-top: 2rem; }
        h1 { font-size: 1.7rem; font-weight: normal; margin: 0; overflow-wrap: anywhere; }
        .under { color: var(--faint); margin: .2rem 0 0; max-width: none; }
        h2 { font-size: 1.15rem; font-weight: normal; font-style: italic; margin: 2.2rem 0 .6rem; padding-bottom: .15rem; border-bottom: 1px solid var(--rule); }
        h3 { font-size: 1rem; margin: 1.2rem 0 .3rem; }
        p, li { max-width: 44rem; }
        .overall { font-size: 1.1rem; margin: 1.2rem 0 0; }
        ol.first { padding-left: 1.6rem; } ol.first li { padding: .25rem 0; }
        ul { padding-left: 1.3rem; }
        .problem { border-left: 3px solid var(--watch); padding-left: .8rem; margin: .6rem 0; }
        .verdict { white-space: nowrap; color: var(--open); } .verdict svg { vertical-align: -2px; }
        .clean { color: var(--clean); } .watch { color: var(--watch); } .fault { color: var(--fault); } .open { color: var(--open); }
        .key { display: flex; flex-wrap: wrap; gap: .2rem 1.1rem; padding: 0; margin: .3rem 0 1rem; list-style: none; font-size: .9rem; }
        .mark { fill: currentColor; stroke: none; } .mark .hollow { fill: none; stroke: currentColor; stroke-width: 1.6; }
        .mark .stroke { fill: none; stroke: currentColor; stroke-width: 1.8; }
        .mark .post { fill: none; stroke: currentColor; stroke-width: .6; stroke-dasharray: 1.5 3; opacity: .75; }
        .rows { margin: .4rem 0; } .row { display: block; width: 100%; height: auto; margin: 0 0 1rem; }
        .row text { font: 10px/1 "Helvetica Neue", Arial, sans-serif; fill: var(--ink); }
        .row text.axis, .row .position { fill: var(--faint); } .row .mark text.word { fill: currentColor; }
        .row .grid { fill: none; stroke: var(--rule); stroke-width: .6; } .row .note { fill: var(--note); }
        .row .pitch { fill: none; stroke: var(--line); stroke-width: 1.3; stroke-linejoin: round; } .row .level { fill: var(--level); stroke: none; }
        .narrow { display: none; }
        table { border-collapse: collapse; width: 100%; font-size: .9rem; }
        caption { text-align: left; color: var(--faint); padding-bottom: .4rem; }
        th { text-align: left; font-weight: normal; font-style: italic; color: var(--faint); border-bottom: 1px solid var(--rule); padding: .2rem .7rem .2rem 0; vertical-align: bottom; }
        td { padding: .3rem .7rem .3rem 0; border-bottom: 1px solid var(--rule); vertical-align: top; }
        td.figure, th.figure { text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap; }
        td.short { white-space: nowrap; } td.say { min-width: 16rem; } .basis { color: var(--faint); display: block; }
        .fine { font-size: .9rem; color: var(--faint); } dl { max-width: 44rem; } dt { font-style: italic; } dd { margin: 0 0 .5rem 1.2rem; }
        .care { border-top: 1px solid var(--rule); margin-top: 2.5rem; padding-top: .8rem; padding-bottom: 2rem; }
        @media screen and (max-width: 760px) {
          .wide { display: none; } .narrow { display: block; } header { padding-top: 1.2rem; } h1 { font-size: 1.35rem; }
          table, caption, tbody, tr, td { display: block; } thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }
          tr { border-bottom: 1px solid var(--rule); padding: .5rem 0; } td, td.figure, td.short { border: 0; padding: .05rem 0; text-align: left; white-space: normal; min-width: 0; }
          td[data-of]::before { content: attr(data-of) " "; color: var(--faint); font-style: italic; } td.none { display: none; }
          tr { display: flex; flex-wrap: wrap; gap: 0 1rem; } td.say { flex-basis: 100%; }
        }
        @media print {
          :root { --paper: #fff; --ink: #000; --faint: #444; --rule: #bbb; --note: #ddd; --line: #000; --level: #ddd; --clean: #234c63; --watch: #6b4708; --fault: #7d1f17; --open: #444; color-scheme: light; }
          body { font-size: 10.5pt; } table { font-size: 8.5pt; } td, th { padding-right: .5rem; } td.say { min-width: 12rem; }  main, header, footer { max-width: none; padding: 0; } .wide { display: none; } .narrow { display: grid; grid-template-columns: 1fr 1fr; gap: 0 1.5rem; } thead { display: table-header-group; }
          .row, tr, li, .problem { break-inside: avoid; } h2, h3 { break-after: avoid; } a { color: inherit; }
        }
        """;
}
