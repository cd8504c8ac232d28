// Handles on the drawings of the bench. Each stands for a field of a form; the form is what is sent.
//
//   [data-bench-handles]   a drawing; its handles as app/drawings/bench_handles.py gives them
//
// Kind "around": a slider that goes round a centre by dragging, by tapping the ring, or by the arrow keys; Enter
// sends its form. Kind "tap": a button that adds to a list. Kind "pick": a button that makes choices in the form.
// Kinds "target" and "piece" are for bench-carry.js.

const FINE = 1;
const COARSE = 15;
const KEYS = { ArrowRight: FINE, ArrowUp: FINE, ArrowLeft: -FINE, ArrowDown: -FINE, PageUp: COARSE, PageDown: -COARSE };

export function layHandles(root) {
  for (const drawing of root.querySelectorAll("[data-bench-handles]")) {
    const field = drawing.querySelector(".drawing-field");
    for (const handle of JSON.parse(drawing.dataset.benchHandles)) {
      if (handle.kind === "around") layAround(root, drawing, field, handle);
      if (handle.kind === "tap") layTap(root, field, handle);
      if (handle.kind === "pick") layPick(root, field, handle);
      if (handle.kind === "target") layTarget(field, handle);
      if (handle.kind === "piece") layPiece(field, handle);
    }
  }
}

function formOf(root, handle) {
  return root.querySelector(`[data-bench-form][data-do="${handle.do}"]`);
}

function put(field, element, x, y) {
  element.style.left = `${100 * x}%`;
  element.style.top = `${100 * y}%`;
  if (element.parentElement !== field) field.append(element);
}

function layTarget(field, handle) {
  const place = document.createElement("div");
  place.className = "bench-place";
  place.dataset.benchTarget = handle.do;
  place.dataset.benchFields = JSON.stringify(handle.fields);
  place.dataset.benchLabel = handle.label;
  put(field, place, handle.x, handle.y);
}

function layPiece(field, handle) {
  const piece = document.createElement("span");
  piece.className = "bench-token bench-piece";
  piece.id = `piece-${handle.label}`;
  piece.dataset.benchToken = JSON.stringify(handle.fields);
  piece.append(Object.assign(document.createElement("span"), { className: "unseen" }), handle.label);
  put(field, piece, handle.x, handle.y);
}

// An option of this kind: "clip" stands for "clip P", "clip T" and so on.
const isOf = (value, kind) => value === kind || value.startsWith(`${kind} `);

function layPick(root, field, handle) {
  const form = formOf(root, handle);
  if (!form) return;
  const button = document.createElement("button");
  button.type = "button";
  button.className = "bench-tap";
  button.id = `pick-${Object.values(handle.fields).join("-")}`;
  button.setAttribute("aria-label", handle.label);
  put(field, button, handle.x, handle.y);
  const wanted = Object.entries(handle.fields).map(([name, kind]) => [form.elements[name], kind]);
  const show = () => button.setAttribute("aria-pressed", String(wanted.every(([entry, kind]) => isOf(entry.value, kind))));
  button.addEventListener("click", () => {
    for (const [entry, kind] of wanted) {
      if (!isOf(entry.value, kind)) entry.value = [...entry.options].find((each) => isOf(each.value, kind)).value;
      entry.dispatchEvent(new Event("change", { bubbles: true }));
    }
  });
  form.addEventListener("change", show);
  show();
}

function layTap(root, field, handle) {
  const form = formOf(root, handle);
  if (!form) return;
  const button = document.createElement("button");
  button.type = "button";
  button.className = "bench-tap";
  button.id = `tap-${handle.do}-${handle.adds}`;
  put(field, button, handle.x, handle.y);
  const entry = form.elements[handle.field];
  const show = () => {
    const list = entry.value.split(/[\s,]+/).filter(Boolean);
    const place = list.indexOf(handle.adds) + 1;
    button.setAttribute("aria-pressed", String(place > 0));
    button.setAttribute("aria-label", place > 0 ? `${handle.label}, number ${place} in the order` : handle.label);
    button.replaceChildren();
    if (place > 0) button.append(Object.assign(document.createElement("span"), { textContent: place }));
  };
  button.addEventListener("click", () => {
    const list = entry.value.split(/[\s,]+/).filter(Boolean);
    const next = list.includes(handle.adds) ? list.filter((each) => each !== handle.adds) : [...list, handle.adds];
    entry.value = next.join(" ");
    entry.dispatchEvent(new Event("input", { bubbles: true }));
  });
  entry.addEventListener("input", show);
  show();
}

function layAround(root, drawing, field, handle) {
  const form = formOf(root, handle);
  if (form) new Around(drawing, field, handle, form);
}

class Around {
  constructor(drawing, field, handle, form) {
    Object.assign(this, { drawing, field, handle, form, entry: form.elements[handle.field], angle: handle.at });
    this.knob = document.createElement("div");
    this.knob.className = "bench-knob";
    this.knob.id = `knob-${handle.do}`;
    this.knob.tabIndex = 0;
    this.knob.setAttribute("role", "slider");
    this.knob.setAttribute("aria-label", `${handle.label}, degrees clockwise`);
    this.knob.setAttribute("aria-valuemin", handle.relative ? "-180" : "0");
    this.knob.setAttribute("aria-valuemax", handle.relative ? "180" : "359");
    this.knob.addEventListener("keydown", (event) => this.key(event));
    this.field.addEventListener("pointerdown", (event) => this.grab(event));
    this.tell();
    this.entry.addEventListener("input", () => this.follow());
    this.follow();
    this.show();
  }

  // What the red circle is, for whoever sees it for the first time.
  tell() {
    const words = document.createElement("p");
    words.className = "bench-knob-name";
    words.textContent = `Red circle: ${this.handle.label[0].toLowerCase()}${this.handle.label.slice(1)}`;
    this.field.append(words);
  }

  // The angle that the field holds: of the handle, of the wheel under it, or of the turn since it was laid.
  get value() {
    const { sign, relative, at } = this.handle;
    const value = Math.round(relative ? this.angle - at : sign * this.angle);
    const around = ((value % 360) + 360) % 360;
    return relative && around > 180 ? around - 360 : around;
  }

  // What is typed moves the handle, as far as it is plain degrees; the server reads the rest.
  follow() {
    const typed = /^\s*(\d{1,3})\s*°?\s*(cw|ccw)?\s*$/.exec(this.entry.value);
    if (!typed || this.writing) return;
    const amount = Number(typed[1]) * (typed[2] === "ccw" ? -1 : 1);
    this.angle = this.handle.relative ? this.handle.at + amount : this.handle.sign * amount;
    this.show();
  }

  write() {
    const value = this.value;
    this.writing = true;
    this.entry.value = this.handle.relative ? `${Math.abs(value)} ${value < 0 ? "ccw" : "cw"}` : String(value);
    this.entry.dispatchEvent(new Event("input", { bubbles: true }));
    this.writing = false;
    this.show();
  }

  show() {
    const { centreX, centreY, radiusX, radiusY } = this.handle;
    const turn = (this.angle * Math.PI) / 180;
    put(this.field, this.knob, centreX + radiusX * Math.sin(turn), centreY - radiusY * Math.cos(turn));
    const value = this.value;
    this.knob.textContent = this.entry.value ? `${value}°` : "drag";
    this.knob.setAttribute("aria-valuenow", String(value));
    this.knob.setAttribute("aria-valuetext", this.entry.value ? `${value} degrees` : `${value} degrees, not set yet`);
    if (this.handle.turns) {
      const svg = this.field.querySelector("svg");
      svg.style.transformOrigin = `${100 * centreX}% ${100 * centreY}%`;
      svg.style.transform = `rotate(${this.angle - this.handle.at}deg)`;
    }
  }

  key(event) {
    const step = KEYS[event.key];
    if (step) {
      this.angle += step * this.handle.sign;
      this.write();
    } else if (event.key === "Home") {
      this.angle = this.handle.relative ? this.handle.at : 0;
      this.write();
    } else if (event.key === "Enter") {
      if (!this.entry.value) this.write();
      this.form.requestSubmit();
    } else {
      return;
    }
    event.preventDefault();
  }

  // Taking hold of the knob, or tapping where it shall go: on the ring on which it moves.
  grab(event) {
    if (event.button !== 0 || event.target.closest("button, a")) return;
    const onKnob = event.target === this.knob;
    if (!onKnob && !this.near(event)) return;
    event.preventDefault();
    this.knob.focus({ preventScroll: true });
    const from = this.angleOf(event);
    const offset = onKnob ? this.angle - from : 0;
    let moved = !onKnob;
    const move = (next) => {
      moved = true;
      this.angle = this.angleOf(next) + offset;
      this.write();
    };
    const drop = (last) => {
      this.field.removeEventListener("pointermove", move);
      this.field.removeEventListener("pointerup", drop);
      this.field.removeEventListener("pointercancel", drop);
      if (last.type !== "pointerup") return;
      if (!moved) this.put(this.angleOf(last)); // a tap on the knob itself, which covers its neighbouring degrees
      if (this.handle.sends) this.form.requestSubmit();
    };
    this.field.setPointerCapture(event.pointerId);
    this.field.addEventListener("pointermove", move);
    this.field.addEventListener("pointerup", drop);
    this.field.addEventListener("pointercancel", drop);
    if (!onKnob) move(event);
  }

  put(angle) {
    this.angle = angle;
    this.write();
  }

  near(event) {
    const [x, y] = this.fromCentre(event);
    const share = Math.hypot(x / this.handle.radiusX, y / this.handle.radiusY);
    return share > 0.75 && share < 1.25;
  }

  angleOf(event) {
    const [x, y] = this.fromCentre(event);
    return (Math.atan2(x / this.handle.radiusX, -y / this.handle.radiusY) * 180) / Math.PI;
  }

  fromCentre(event) {
    const box = this.field.getBoundingClientRect();
    const { centreX, centreY } = this.handle;
    return [(event.clientX - box.left) / box.width - centreX, (event.clientY - box.top) / box.height - centreY];
  }
}
