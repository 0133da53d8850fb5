// Serves both engines. In-process: this file is evaluated right after the engraver, which then is the global `verovio`.
// As a Node.js worker (node engrave.cjs PATH-OF-ENGRAVER): one JSON request a line on standard input, one JSON answer a line
// on standard output.
(function (root) {
  "use strict";

  function start(verovio) {
    return new Promise(function (resolve) {
      // Set in the same turn as the library's own evaluation, or the event can be missed.
      verovio.module.onRuntimeInitialized = function () {
        verovio.enableLog(verovio.LOG_OFF);
        resolve(new verovio.toolkit());
      };
    });
  }

  function engrave(toolkit, mei, options) {
    toolkit.resetOptions();
    toolkit.setOptions(options);
    if (!toolkit.loadData(mei)) throw new Error("the engraver did not accept the notation");
    var pages = [];
    for (var page = 1; page <= toolkit.getPageCount(); page++) pages.push(toolkit.renderToSVG(page));
    return pages;
  }

  root.seamwrightStart = start;
  root.seamwrightEngrave = function (toolkit, mei, options) {
    return JSON.stringify(engrave(toolkit, mei, JSON.parse(options)));
  };

  if (typeof process === "undefined" || typeof require === "undefined") return;
  var out = process.stdout;
  console.log = console.warn = console.info = function () {};
  start(require(process.argv[2])).then(function (toolkit) {
    out.write("{\"ready\":true}\n");
    require("readline").createInterface({ input: process.stdin, crlfDelay: Infinity }).on("line", function (line) {
      var answer;
      try {
        var request = JSON.parse(line);
        answer = { pages: engrave(toolkit, request.mei, request.options) };
      } catch (e) {
        answer = { error: String((e && e.message) || e) };
      }
      out.write(JSON.stringify(answer) + "\n");
    }).on("close", function () { process.exit(0); });
  });
})(globalThis);
