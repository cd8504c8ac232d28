// Puts what the server has drawn anew in the place of a part of the page. What was unfolded stays unfolded.

import { start as startScrollRegion } from "./modules/scroll-region.js";

// fresh: the element whose content takes the place of the part's.
export function replaceContent(part, fresh) {
  if (part.innerHTML === fresh.innerHTML) return;
  const open = [...part.querySelectorAll("details")].map((details) => details.open);
  part.replaceChildren(...fresh.childNodes);
  part.querySelectorAll("details").forEach((details, index) => (details.open = open[index] ?? details.open));
  part.querySelectorAll('[data-module~="scroll-region"]').forEach(startScrollRegion);
}
