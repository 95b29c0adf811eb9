/** Notes what goes wrong on a page, where a test can read it. Comes before everything else on the page. */
(function () {
  "use strict";

  window.pageFaults = [];
  const note = (what) => window.pageFaults.push(location.pathname + ": " + what);

  addEventListener("error", (event) => {
    const { target } = event;
    note(target === window ? event.message : "did not come: " + (target.src || target.href));
  }, true);
  addEventListener("unhandledrejection", (event) => note("not caught: " + event.reason));
  addEventListener("securitypolicyviolation", (event) => note(event.violatedDirective + " forbids " + event.blockedURI));
  const error = console.error.bind(console);
  console.error = (...words) => {
    note("told the console: " + words.join(" "));
    error(...words);
  };
})();
