// Runs before anything is painted, so that nobody is blinded at dawn: chooses dark or light.
// A plain script, because modules run only after the first paint.
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
})();
