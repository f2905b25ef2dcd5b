// Runs before anything is painted, so that nobody is blinded at dawn: chooses dark or light. Says so where the
// rest of the page does not come. A plain script, because modules run only after the first paint.
"use strict";
(function () {
  let wish = "auto";
  try {
    const kept = JSON.parse(localStorage.getItem("apiary-almanac") || "{}");
    wish = (kept.display && kept.display.theme) || "auto";
  } catch {
    // What cannot be read is told by the page itself.
  }
  globalThis.chooseTheme = function (theme) {
    const hour = new Date().getHours();
    const night = hour < 7 || hour >= 18;
    const dark =
      theme === "dark" || (theme !== "light" && (night || matchMedia("(prefers-color-scheme: dark)").matches));
    document.documentElement.dataset.theme = dark ? "dark" : "light";
    const bar = document.querySelector('meta[name="theme-color"]');
    if (bar) bar.setAttribute("content", dark ? "#16120d" : "#efe8d8");
  };
  globalThis.chooseTheme(wish);

  const show = function (id) {
    const line = document.getElementById(id);
    if (line) line.hidden = false;
  };
  let failed = false;
  // A script or a style sheet that does not come fires no event that rises: it is caught on its way down.
  addEventListener("error", function (event) {
    const part = event.target;
    if (part === globalThis || (part.tagName !== "SCRIPT" && part.rel !== "stylesheet" && part.rel !== "modulepreload")) return;
    failed = true;
    show("not-fetched");
  }, true);
  document.addEventListener("DOMContentLoaded", function () {
    if (failed) show("not-fetched");
    if (typeof WebAssembly !== "object" || !("noModule" in HTMLScriptElement.prototype)) show("too-old");
  });
})();
