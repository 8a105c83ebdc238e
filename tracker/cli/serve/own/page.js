"use strict";
// The key is spent once the page is here: it need not stand in the address or in the history.
history.replaceState(null, "", "/");

const COLUMNS = 80;
const LINES = 24;
const WIDTH_OF_A_SIGN = 0.61; // of its height, a little more than the font's 0.6
const HEIGHT_OF_A_LINE = 1.35; // likewise, a little more than the font's 1.32
const terminal = document.querySelector("#terminal");
const again = document.querySelector("#again");

// The screens need 80 by 24; a tablet shows that however it is turned.
const touched = window.matchMedia("(pointer: coarse)").matches;
const across = touched ? Math.min(window.innerWidth, screen.width, screen.height) : window.innerWidth;
const pixels = Math.min(
  across / COLUMNS / WIDTH_OF_A_SIGN,
  window.innerHeight / LINES / HEIGHT_OF_A_LINE,
);
terminal.dataset.fontSize = String(Math.max(8, Math.min(16, Math.floor(pixels))));

again.addEventListener("click", () => location.reload());

// Keys go to the screens as soon as there are any; when they have closed, Enter opens them again.
let focused = "";
new MutationObserver(() => {
  const state = ["-closed", "-first-byte"].find((name) => document.body.classList.contains(name)) ?? "";
  if (state === focused) return;
  focused = state;
  if (state === "-closed") {
    // The terminal would tell the closed socket that it is left.
    document.addEventListener("blur", (event) => event.stopPropagation(), true);
  }
  (state === "-closed" ? again : terminal.querySelector("textarea"))?.focus();
}).observe(document.body, { attributeFilter: ["class"] });
