// Carrying an assembly: drag its token to a place, or tap the token and then the place, or Enter and Enter.
//
//   [data-bench-token]    what can be carried: the fields that it adds to the form
//   [data-bench-target]   where it can be put down: the action, data-bench-fields, data-bench-label
//   [data-bench-how]      how to carry, hidden without this script
//
// carry(action, fields) is called when something is put down.

const MOVED_PX = 8;

export function layTokens(root, carry) {
  const carrier = new Carrier(root, carry);
  for (const token of root.querySelectorAll("[data-bench-token]")) carrier.add(token);
  root.querySelector("[data-bench-how]").hidden = false;
  root.addEventListener("keydown", (event) => event.key === "Escape" && carrier.putBack(), { signal: carrier.signal });
}

class Carrier {
  constructor(root, carry) {
    Carrier.current?.abort.abort();
    Carrier.current = this;
    this.abort = new AbortController();
    this.signal = this.abort.signal;
    this.root = root;
    this.carry = carry;
    this.held = null;
  }

  add(token) {
    token.tabIndex = 0;
    token.setAttribute("role", "button");
    token.querySelector(".unseen").textContent = "Carry assembly ";
    token.setAttribute("aria-pressed", "false");
    token.addEventListener("keydown", (event) => {
      if (event.key !== "Enter" && event.key !== " ") return;
      event.preventDefault();
      this.toggle(token);
    });
    token.addEventListener("pointerdown", (event) => this.grab(event, token));
  }

  toggle(token) {
    const again = this.held === token;
    this.putBack();
    if (!again) this.hold(token);
  }

  hold(token) {
    this.held = token;
    token.setAttribute("aria-pressed", "true");
    const { assembly } = JSON.parse(token.dataset.benchToken);
    document.querySelector("[data-bench-said]").textContent = `Assembly ${assembly} in hand: choose where to put it down. Escape puts it back.`;
    for (const target of this.root.querySelectorAll("[data-bench-target]")) {
      if (target.contains(token) || !this.takes(target)) continue;
      const button = document.createElement("button");
      button.type = "button";
      button.className = "bench-drop";
      button.textContent = target.dataset.benchLabel;
      button.addEventListener("click", () => this.putDown(target));
      // What the button covers can't be reached meanwhile.
      for (const covered of target.children) covered.inert = true;
      target.append(button);
    }
  }

  // Only what stands on the car can be taken off it, and only what doesn't is put on it.
  takes(target) {
    const onCar = "corner" in JSON.parse(this.held.dataset.benchToken);
    return { "take-off": onCar, place: !onCar, go: !onCar, bring: !onCar }[target.dataset.benchTarget];
  }

  putBack() {
    this.held?.setAttribute("aria-pressed", "false");
    this.held = null;
    this.root.querySelectorAll(".bench-drop").forEach((each) => each.remove());
    this.root.querySelectorAll("[data-bench-target] > *").forEach((each) => (each.inert = false));
  }

  putDown(target) {
    const fields = { ...JSON.parse(this.held.dataset.benchToken), ...JSON.parse(target.dataset.benchFields) };
    const action = target.dataset.benchTarget;
    this.putBack();
    this.carry(action, fields);
  }

  grab(event, token) {
    if (event.button !== 0) return;
    const start = [event.clientX, event.clientY];
    let moved = false;
    const move = (next) => {
      const [x, y] = [next.clientX - start[0], next.clientY - start[1]];
      if (!moved && Math.hypot(x, y) < MOVED_PX) return;
      if (!moved) {
        moved = true;
        if (this.held !== token) this.toggle(token);
      }
      token.style.transform = `translate(${x}px, ${y}px)`;
    };
    const drop = (last) => {
      token.removeEventListener("pointermove", move);
      token.removeEventListener("pointerup", drop);
      token.removeEventListener("pointercancel", drop);
      token.style.transform = "";
      if (last.type === "pointercancel") return this.putBack();
      if (!moved) return this.toggle(token);
      const under = document.elementsFromPoint(last.clientX, last.clientY);
      const target = under.map((each) => each.closest("[data-bench-target]")).find((each) => each && !each.contains(token) && this.takes(each));
      if (target) this.putDown(target);
      else this.putBack();
    };
    token.setPointerCapture(event.pointerId);
    token.addEventListener("pointermove", move);
    token.addEventListener("pointerup", drop);
    token.addEventListener("pointercancel", drop);
  }
}
