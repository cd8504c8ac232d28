// Keeps the board on the projector fresh: asks for the page again and puts its part in place; between two answers the
// clock runs on by itself.
//
//   [data-board-part]    data-elapsed-ms since the start, data-running       [data-board-clock]   the running time

import { shown } from "../heat-time.js";

const ASK_EVERY_MS = 1500;
const TICK_MS = 100;

export function start(element) {
  let since = performance.now();
  const ask = async () => {
    try {
      const response = await fetch(location.href, { headers: { Accept: "text/html" } });
      const page = new DOMParser().parseFromString(await response.text(), "text/html");
      const fresh = page.querySelector("[data-board-part]");
      if (fresh) {
        element.querySelector("[data-board-part]").replaceWith(fresh);
        since = performance.now();
      }
    } catch {
      // A network that is away for a moment: the next question follows.
    }
    setTimeout(ask, ASK_EVERY_MS);
  };
  setTimeout(ask, ASK_EVERY_MS);
  setInterval(() => {
    const part = element.querySelector("[data-board-part]");
    if (!("running" in part.dataset)) return;
    const elapsedMs = Number(part.dataset.elapsedMs) + performance.now() - since;
    part.querySelector("[data-board-clock]").textContent = shown(elapsedMs);
  }, TICK_MS);
}
