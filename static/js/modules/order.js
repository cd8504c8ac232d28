// Steps of an order, moved by arrows, by dragging, by tapping two handles or by typing a place. The boxes that hold the
// places stand there without this script; with it they read 1, 2, 3 down the list from the first move on.

const UP = -1;
const DOWN = 1;
const STILL_PX = 6; // less than this is a tap

export function start(fieldset) {
  const order = new Order(fieldset);
  const list = order.list;
  // What is typed counts once it is typed: until then two boxes may hold the same place.
  list.addEventListener("input", (event) => event.stopPropagation());
  list.addEventListener("change", (event) => {
    event.stopPropagation();
    order.typed(event.target);
  });
  list.addEventListener("keydown", (event) => order.pressed(event));
  list.addEventListener("click", (event) => order.clicked(event));
  list.addEventListener("pointerdown", (event) => order.grab(event));
  list.addEventListener("pointermove", (event) => order.pull(event));
  list.addEventListener("pointerup", () => order.drop());
  list.addEventListener("pointercancel", () => order.drop());
}

class Order {
  constructor(fieldset) {
    this.fieldset = fieldset;
    this.list = fieldset.querySelector("[data-order-steps]");
    this.status = fieldset.querySelector("[data-order-said]");
    this.picked = null; // the step whose handle was tapped
    this.drag = null; // {step, before: the steps as they stood, y: where it was grabbed, offMiddle: of the step}
    this.dragged = false; // whether the click that ends a drag is still to come
    fieldset.querySelector("[data-order-help]").hidden = false;
    for (const step of this.steps) step.append(tools(wordsOf(step)));
  }

  get steps() {
    return [...this.list.children];
  }

  placeOf(step) {
    return this.steps.indexOf(step);
  }

  // Put a step at a place, counted from 0.
  move(step, place, focus) {
    const others = this.steps.filter((other) => other !== step);
    this.list.insertBefore(step, others[Math.max(place, 0)] ?? null);
    focus.focus();
    this.settle(step);
  }

  settle(step) {
    for (const [place, each] of this.steps.entries()) boxOf(each).value = place + 1;
    this.say(`Place ${this.placeOf(step) + 1} of ${this.steps.length}: ${wordsOf(step)}`);
    this.tell();
  }

  // From above the list, where what is typed is held back.
  tell() {
    for (const name of ["input", "change"]) this.fieldset.dispatchEvent(new Event(name, { bubbles: true }));
  }

  say(text) {
    this.status.textContent = text;
  }

  typed(box) {
    const place = Number(box.value);
    const isPlace = box.value.trim() !== "" && Number.isInteger(place) && place >= 1 && place <= this.steps.length;
    if (isPlace) this.move(box.closest("li"), place - 1, document.activeElement);
    else this.tell(); // the server says beside it what to mend
  }

  pressed(event) {
    const step = event.target.closest("li");
    if (event.key === "Enter" && event.target === boxOf(step)) {
      event.preventDefault(); // it places the step and doesn't send the form
      this.typed(event.target);
    }
    const way = { ArrowUp: UP, ArrowDown: DOWN }[event.key];
    if (way) {
      event.preventDefault();
      this.move(step, this.placeOf(step) + way, event.target);
    }
    if (event.key === "Escape" && this.picked) this.pick(null);
  }

  clicked(event) {
    const control = event.target.closest("button");
    if (!control) return;
    const step = control.closest("li");
    if (control.dataset.way) this.move(step, this.placeOf(step) + Number(control.dataset.way), control);
    else if (this.dragged) this.dragged = false;
    else if (this.picked && this.picked !== step) {
      const place = this.placeOf(step);
      const moved = this.picked;
      this.pick(null);
      this.move(moved, place, handleOf(moved));
    } else this.pick(this.picked ? null : step);
  }

  pick(step) {
    for (const each of this.steps) handleOf(each).setAttribute("aria-pressed", String(each === step));
    this.picked = step;
    this.say(step ? `Picked up: ${wordsOf(step)}. Choose the handle where it goes.` : "Put down.");
  }

  grab(event) {
    this.dragged = false;
    const step = event.target.closest("[data-handle]")?.closest("li");
    if (!step || event.button > 0) return;
    this.drag = { step, before: this.steps, y: event.clientY, offMiddle: event.clientY - middleOf(step) };
    handleOf(step).setPointerCapture(event.pointerId);
  }

  // The steps that it covers by half change sides. The dragged one itself stays in the page, or it would lose the pointer.
  pull(event) {
    if (!this.drag) return;
    const { step, y, offMiddle } = this.drag;
    this.dragged ||= Math.abs(event.clientY - y) > STILL_PX;
    if (!this.dragged) return;
    step.classList.add("dragged");
    const half = step.offsetHeight / 2;
    const middle = event.clientY - offMiddle;
    const at = this.placeOf(step);
    const above = this.steps.slice(0, at).filter((each) => middle - half < middleOf(each));
    const below = this.steps.slice(at + 1).filter((each) => middle + half > middleOf(each));
    for (const each of below) this.list.insertBefore(each, step);
    for (const each of above.reverse()) this.list.insertBefore(each, step.nextSibling);
  }

  drop() {
    if (!this.drag) return;
    const { step, before } = this.drag;
    this.drag = null;
    step.classList.remove("dragged");
    if (this.steps.some((each, place) => each !== before[place])) this.settle(step);
  }
}

const wordsOf = (step) => step.querySelector("label").textContent;
const boxOf = (step) => step.querySelector("input");
const handleOf = (step) => step.querySelector("[data-handle]");

function middleOf(step) {
  const box = step.getBoundingClientRect();
  return (box.top + box.bottom) / 2;
}

function tools(words) {
  const made = document.createElement("span");
  made.className = "order-tools";
  made.append(
    tool("↑", `Up: ${words}`, { "data-way": UP }),
    tool("↓", `Down: ${words}`, { "data-way": DOWN }),
    tool("≡", `Move: ${words}`, { "data-handle": "", "aria-pressed": "false" }),
  );
  return made;
}

function tool(sign, label, attributes) {
  const button = document.createElement("button");
  button.type = "button";
  button.className = "button";
  button.textContent = sign;
  button.setAttribute("aria-label", label);
  for (const [name, value] of Object.entries(attributes)) button.setAttribute(name, value);
  return button;
}
