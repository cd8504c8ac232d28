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
  }
}
