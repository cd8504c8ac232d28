// Where there is little room, only the group of actions that is in use stands open; the others show their heads.
//
//   details.bench-offer    a group; the server sends each open, so that nothing is hidden without this script

const LITTLE_ROOM = matchMedia("(max-width: 60rem)");

export class Offers {
  constructor() {
    this.open = new Set();
  }

  // Which groups stand open now, before the page's part is put in anew.
  remember(root) {
    this.open = new Set([...root.querySelectorAll(".bench-offer[open]")].map((each) => each.id));
  }

  lay(root) {
    if (!LITTLE_ROOM.matches) return;
    const all = [...root.querySelectorAll(".bench-offer")];
    const stays = all.filter((each) => this.open.has(each.id) || each.querySelector("[aria-invalid], .field-error"));
    const shown = stays.length > 0 ? stays : all.slice(0, 1);
    for (const each of all) each.open = shown.includes(each);
    for (const each of all) each.querySelector("summary").addEventListener("click", () => this.closeOthers(all, each));
  }

  // The head that was pressed stays where it is while what stands open above it closes.
  closeOthers(all, pressed) {
    if (pressed.open) return; // it is about to be closed itself
    const place = pressed.getBoundingClientRect().top;
    for (const each of all) if (each !== pressed) each.open = false;
    scrollBy(0, pressed.getBoundingClientRect().top - place);
  }
}
