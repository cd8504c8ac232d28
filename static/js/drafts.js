// What was typed and has not reached the server, kept in this browser until it has.
//
// A tablet is shared: a draft's name holds the person and the address it is to be sent to, and only that person's own
// page of that address (without its query) reads it. Each entry is {answer, from, at}: from is what the server had when it was typed.

const PREFIX = "draft ";
const KEPT_MS = 14 * 24 * 60 * 60 * 1000;

export class Drafts {
  constructor(person, address) {
    this.name = `${PREFIX}${person} ${address}`;
    forgetOld();
  }

  all() {
    return read(this.name);
  }

  keep(task, answer, from) {
    const drafts = this.all();
    this.write({ ...drafts, [task]: { answer, from: drafts[task]?.from ?? from, at: Date.now() } });
  }

  forget(task) {
    const { [task]: _, ...others } = this.all();
    this.write(others);
  }

  write(drafts) {
    try {
      if (Object.keys(drafts).length > 0) localStorage.setItem(this.name, JSON.stringify(drafts));
      else localStorage.removeItem(this.name);
    } catch {
      // A browser that keeps nothing still sends while the page is open.
    }
  }
}

function forgetOld() {
  const before = Date.now() - KEPT_MS;
  try {
    for (const name of Object.keys(localStorage).filter((each) => each.startsWith(PREFIX))) {
      if (Object.values(read(name)).every((draft) => draft.at < before)) localStorage.removeItem(name);
    }
  } catch {
    // Nothing is kept, so nothing grows old.
  }
}

function read(name) {
  try {
    return JSON.parse(localStorage.getItem(name)) ?? {};
  } catch {
    return {};
  }
}
