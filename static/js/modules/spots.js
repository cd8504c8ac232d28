// Spots on a drawing of the wheel: marked by a click or a tap, by the keyboard, or by typing their angles. The box holds
// the answer and stands there without this script; the drawing shows what the box says.
//
//   [data-spots]   data-centre-x, data-centre-y, data-radius: the wheel in the drawing's own units

const SVG = "http://www.w3.org/2000/svg";
const FINE = 1;
const COARSE = 15;
const KEYS = { ArrowRight: FINE, ArrowUp: FINE, ArrowLeft: -FINE, ArrowDown: -FINE, PageUp: COARSE, PageDown: -COARSE };
const SAME_SPOT_DEG = 6; // a second click this near takes a mark away

export function start(root) {
  new Spots(root);
}

class Spots {
  constructor(root) {
    this.box = root.querySelector("input");
    this.drawing = root.querySelector(".drawing-field svg");
    this.centre = { x: Number(root.dataset.centreX), y: Number(root.dataset.centreY) };
    this.radius = Number(root.dataset.radius);
    this.aim = 0; // where the keyboard points, in degrees
    this.layer = this.makeLayer(root.dataset.label);
    root.querySelector("[data-spots-help]").hidden = false;
    this.box.addEventListener("input", () => this.draw());
    this.draw();
  }

  makeLayer(label) {
    const layer = made("svg", {
      viewBox: this.drawing.getAttribute("viewBox"),
      class: "spots-layer",
      role: "slider",
      tabindex: 0,
      "aria-label": label,
      "aria-valuemin": 0,
      "aria-valuemax": 359,
    });
    layer.addEventListener("click", (event) => this.toggle(this.angleAt(event)));
    layer.addEventListener("keydown", (event) => this.pressed(event));
    this.drawing.after(layer);
    return layer;
  }

  // What stands in the box, part by part. The angle is for drawing alone: the server reads the text for the mark.
  get entries() {
    const parts = this.box.value.split(/[,;\n]/).map((part) => part.trim());
    return parts.filter((text) => text !== "").map((text) => ({ text, angle: angleIn(text) }));
  }

  marksNear(angle) {
    return this.entries.filter((entry) => entry.angle !== null && apart(entry.angle, angle) <= SAME_SPOT_DEG);
  }

  angleAt(event) {
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(this.layer.getScreenCTM().inverse());
    const degrees = (Math.atan2(point.x - this.centre.x, this.centre.y - point.y) * 180) / Math.PI;
    return (Math.round(degrees) + 360) % 360;
  }

  toggle(angle) {
    const texts = this.entries.map((entry) => entry.text);
    const [near] = this.marksNear(angle);
    if (near) texts.splice(texts.indexOf(near.text), 1);
    else texts.push(String(angle));
    this.box.value = texts.join(", ");
    this.aim = angle;
    this.draw();
    for (const name of ["input", "change"]) this.box.dispatchEvent(new Event(name, { bubbles: true }));
  }

  pressed(event) {
    if (event.key === "Enter" || event.key === " ") this.toggle(this.aim);
    else if (event.key === "Home") this.aim = 0;
    else if (event.key in KEYS) this.aim = (this.aim + KEYS[event.key] + 360) % 360;
    else return;
    event.preventDefault();
    this.draw();
  }

  draw() {
    const angles = this.entries.map((entry) => entry.angle).filter((angle) => angle !== null);
    const marked = this.marksNear(this.aim).length > 0;
    this.layer.setAttribute("aria-valuenow", Math.round(this.aim));
    this.layer.setAttribute("aria-valuetext", `${Math.round(this.aim)}°${marked ? ", marked" : ", not marked"}`);
    this.layer.replaceChildren(this.needle(), ...angles.flatMap((angle, index) => this.mark(angle, index + 1)));
  }

  needle() {
    const [from, to] = [this.at(this.aim, 0.25), this.at(this.aim, 1.12)];
    return made("line", { x1: from.x, y1: from.y, x2: to.x, y2: to.y, class: "spots-needle" });
  }

  mark(angle, number) {
    const { x, y } = this.at(angle, 1);
    const label = made("text", { x, y: y + 4.5, class: "spots-number" });
    label.textContent = number;
    return [made("circle", { cx: x, cy: y, r: 12, class: "spots-mark" }), label];
  }

  at(angle, share) {
    const turn = (angle * Math.PI) / 180;
    const reach = this.radius * share;
    return { x: this.centre.x + reach * Math.sin(turn), y: this.centre.y - reach * Math.cos(turn) };
  }
}

function angleIn(text) {
  const typed = text.replace(/°$/, "");
  const clock = /^(\d{1,2}):(\d{2})$/.exec(typed);
  if (clock) return (Number(clock[1]) % 12) * 30 + Number(clock[2]) / 2;
  return typed !== "" && Number.isFinite(Number(typed)) ? ((Number(typed) % 360) + 360) % 360 : null;
}

const apart = (one, other) => Math.abs(((one - other + 540) % 360) - 180);

function made(name, attributes) {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
  return element;
}
