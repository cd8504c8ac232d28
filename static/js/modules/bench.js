// The bench: sends the form of an action and puts in what has changed. It reckons nothing.
//
//   [data-bench]        all that an action can change; data-bench-url: where actions go
//   [data-bench-form]   the form of one action, which works without this script too
//   [data-bench-said]   says to a screen reader what was seen
//
// Reply: {"fragment": HTML, "said": text}, for a refusal too; or {"message": text} for any other fault.
// When no reply comes the same form is sent again with the same number, so that nothing is done twice.

import { layHandles } from "./bench-handles.js";
import { layTokens } from "./bench-carry.js";
import { Offers } from "./bench-offers.js";
import { start as startScrollRegion } from "./scroll-region.js";

const RETRIES_MS = [1000, 3000, 6000];
const NO_ANSWER = "No answer from the server. What you did may not be saved: press the button again.";

class Bench {
  constructor(root) {
    this.root = root;
    this.said = document.querySelector("[data-bench-said]");
    this.busy = false;
    this.offers = new Offers();
    this.root.addEventListener("submit", (event) => this.submit(event));
    this.lay();
  }

  lay() {
    this.offers.lay(this.root);
    layHandles(this.root);
    layTokens(this.root, (action, fields) => this.carry(action, fields));
    this.root.querySelectorAll('[data-module~="scroll-region"]').forEach(startScrollRegion);
  }

  submit(event) {
    const form = event.target;
    if (!form.matches("[data-bench-form]")) return;
    event.preventDefault();
    this.send(new FormData(form, event.submitter));
  }

  carry(action, fields) {
    if (action === "go") return this.root.querySelector("#to-car").click();
    const body = new FormData(this.root.querySelector("#bench-carry"));
    for (const [name, value] of Object.entries({ do: action, ...fields })) body.set(name, value);
    this.send(body);
  }

  async send(body) {
    if (this.busy) return;
    this.busy = true;
    this.root.setAttribute("aria-busy", "true");
    const response = await this.ask(body);
    this.busy = false;
    this.root.removeAttribute("aria-busy");
    if (!response) return this.say(NO_ANSWER, true);
    const reply = await response.json().catch(() => ({}));
    if (reply.go) location.assign(reply.go);
    else if (reply.fragment) this.take(reply);
    else this.say(reply.message ?? NO_ANSWER, true);
  }

  async ask(body) {
    for (const pause of [...RETRIES_MS, null]) {
      try {
        const response = await fetch(this.root.dataset.benchUrl, {
          method: "POST",
          headers: { Accept: "application/json" },
          body,
        });
        if (response.status !== 503 || pause === null) return response;
      } catch {
        if (pause === null) return null;
      }
      this.say("Not sent yet – will try again", true);
      await new Promise((resolve) => setTimeout(resolve, pause));
    }
  }

  take(reply) {
    const focus = document.activeElement?.id;
    const place = focus ? document.activeElement.getBoundingClientRect().top : 0;
    const logOpen = this.root.querySelector("#bench-log").open;
    const stood = this.station;
    this.offers.remember(this.root);
    this.root.innerHTML = reply.fragment;
    this.root.querySelector("#bench-log").open = logOpen;
    this.lay();
    const before = focus && this.station === stood ? document.getElementById(focus) : null;
    // What was pressed stays under the finger, whatever has grown above it.
    if (before) window.scrollBy(0, before.getBoundingClientRect().top - place);
    this.show(reply, before);
    this.said.textContent = reply.said;
    const address = new URL(location.href);
    address.searchParams.set("station", reply.station);
    history.replaceState(null, "", address.pathname + address.search);
  }

  // The station and what stands there.
  get station() {
    return this.root.querySelector("#station-head").textContent;
  }

  // What was seen, in view: beside the button that was pressed, where one sentence says it all; at another
  // station its head. A field that can't be read comes first.
  show(reply, before) {
    const unread = this.root.querySelector("[aria-invalid='true']");
    if (unread) {
      unread.focus({ preventScroll: true });
      return unread.scrollIntoView({ block: "center" });
    }
    const seen = this.root.querySelector("#seen");
    (before ?? seen).focus({ preventScroll: true });
    const box = seen.getBoundingClientRect();
    if (!before) return this.root.querySelector("#station-head").scrollIntoView({ block: "start" });
    const form = before.closest("[data-bench-form]");
    if (box.top >= 0 && box.top < innerHeight / 2) return;
    if (!form || !("benchSaysAll" in seen.dataset)) return seen.scrollIntoView({ block: "start" });
    const answer = document.createElement("p");
    const refused = seen.classList.contains("refused");
    answer.className = refused ? "bench-answer refused" : "bench-answer";
    answer.textContent = refused ? `Not done. ${reply.said}` : reply.said;
    form.append(answer);
  }

  // Where nothing came back: over what was seen last, so that it can't be taken for a new observation.
  say(text, alarming) {
    this.said.textContent = text;
    let line = this.root.querySelector("[data-bench-fault]");
    if (!line) {
      line = document.createElement("p");
      line.className = "field-error";
      line.dataset.benchFault = "";
      this.root.querySelector("#seen").prepend(line);
    }
    line.textContent = text;
    line.hidden = !alarming;
    line.scrollIntoView({ block: "nearest" });
  }
}

for (const root of document.querySelectorAll("[data-bench]")) new Bench(root);
