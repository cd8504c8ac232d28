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
import { start as startScrollRegion } from "./scroll-region.js";

const RETRIES_MS = [1000, 3000, 6000];
const NO_ANSWER = "No answer from the server. What you did may not be saved: press the button again.";

class Bench {
  constructor(root) {
    this.root = root;
    this.said = document.querySelector("[data-bench-said]");
    this.busy = false;
    this.root.addEventListener("submit", (event) => this.submit(event));
    this.lay();
  }

  lay() {
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
    const open = new Set([...this.root.querySelectorAll("details[open][id]")].map((each) => each.id));
    const scrolls = this.root.getBoundingClientRect().top;
    this.root.innerHTML = reply.fragment;
    this.root.querySelectorAll("details[id]").forEach((each) => (each.open = open.has(each.id)));
    this.lay();
    window.scrollBy(0, this.root.getBoundingClientRect().top - scrolls);
    const seen = this.root.querySelector("#seen");
    const before = focus ? document.getElementById(focus) : null;
    (before ?? seen).focus({ preventScroll: true });
    seen.scrollIntoView({ block: "nearest" });
    this.said.textContent = reply.said;
    const address = new URL(location.href);
    address.searchParams.set("station", reply.station);
    history.replaceState(null, "", address.pathname + address.search);
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
