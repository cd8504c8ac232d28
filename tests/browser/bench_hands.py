"""Three ways to work at the bench: by mouse with drags, by finger with taps, and by the keyboard alone."""

import math
import re
from typing import Any

from playwright.sync_api import Locator, Page, expect

from tests.browser.keyboard import Keyboard

BUTTONS = {
    "look": "at",
    "clean": "what",
    "cone": "cone",
    "clamp": "grip",
    "spin": "hood_down",
    "raise-car": "at",
    "place-gauge": "place",
    "read-round": "steps",
    "mount": "turned_over",
    "choose-tire": "tire",
}
"""Actions whose choice is the button that is pressed, with the field that it stands for."""


PLACES = {"write-number": "rack", "place": "car", "raise-car": "car", "look": "rack", "peel-label": "rack"}
"""Where to go for an action whose form isn't on the page."""


def typed(name: str, value: Any) -> str:
    """A value of the wire form as a person types it, with its unit."""
    match name:
        case "order":
            return " ".join(str(lug) for lug in value)
        case "turn_deg":
            return f"{abs(value):.3f} {'ccw' if value < 0 else 'cw'}"
        case "after_km":
            return f"{value / 1.609344:.4f}"  # 1 mi = 1.609344 km (NIST SP 811)
    unit = {"kpa": " kPa", "torque_nm": " N.m", "distance_mm": " mm"}.get(name, "")
    return f"{value:g}{unit}"


class Hands:
    """Does wire-form actions on the page as a person does. GRIP: where a handle goes, in drawing units.
    NEAR_DEG: how near to its angle a handle must come by itself."""

    GRIP, DRAWING, NEAR_DEG = 121, 400, 2.0

    def __init__(self, page: Page) -> None:
        self.page = page

    def do(self, body: dict[str, Any]) -> None:
        seen = self.page.locator("#seen-head")
        before = re.match(r"Action (\d+)", seen.inner_text(), re.IGNORECASE)
        if body["do"] == "bring":
            self.carry(body["assembly"], body["to"])
        else:
            self._by_form(body)
        number = int(before[1]) + 1 if before else 1
        expect(seen).to_contain_text(re.compile(rf"Action {number}:", re.IGNORECASE))

    def go_to(self, station: str) -> None:
        self.press(self.page.locator(f"#to-{station}"))
        expect(self.page.locator(f".bench-cell-{station}.current")).to_be_visible()

    def form(self, do: str) -> Locator:
        return self.page.locator(f"form[data-do='{do}']").first

    def _by_form(self, body: dict[str, Any]) -> None:
        fields = {name: value for name, value in body.items() if name != "do"}
        if self.form(body["do"]).count() == 0:
            self.go_to(PLACES[body["do"]])
        if self.form(body["do"]).locator("[name='assembly'][type='hidden']").count():
            fields.pop("assembly", None)
        form, pressed = self.form(body["do"]), None
        self.open_offer_of(form)
        if body["do"] in BUTTONS:
            value = fields.pop(BUTTONS[body["do"]])
            text = {True: "yes", False: "no"}[value] if isinstance(value, bool) else value
            pressed = form.locator(f"button[value='{text}']")
        if body["do"] == "fit-weight":
            clip = fields.pop("clip")
            fields["kind"] = f"clip {clip}" if clip else "adhesive"
            fields["mass_g"] = repr(fields["mass_g"])
            angle = fields.pop("angle_deg")
            for name, value in fields.items():
                self.choose(form.locator(f"[name='{name}']"), value)
            self.fit_at(form, angle)
            return
        for name, value in fields.items():
            control = form.locator(f"[name='{name}']")
            if control.evaluate("each => each.tagName") == "SELECT":
                self.choose(control, value)
            else:
                self.type(control, typed(name, value))
        self.press(pressed or form.locator("button").first)

    def open_offer_of(self, form: Locator) -> None:
        """Where there is little room only one group of actions stands open."""
        offer = form.locator("xpath=ancestor::details[1]")
        if offer.get_attribute("open") is None:
            self.press(offer.locator("summary").first)

    def fit_at(self, form: Locator, angle: float) -> None:
        """Take the handle there, read the angle it reached, type what a pixel missed, and send."""
        self.turn_knob("fit-weight", angle)
        control = form.locator("[name='angle_deg']")
        reached = float(control.input_value().rstrip("°"))
        assert abs((reached - angle + 180) % 360 - 180) <= self.NEAR_DEG, (reached, angle)
        self.type(control, f"{angle:.6g}")
        self.press(form.locator("button").first)

    def turn_knob(self, do: str, angle: float) -> None:
        """Take the handle of an action to an angle of the drawing, as near as these hands can."""
        raise NotImplementedError

    def press(self, target: Locator) -> None:
        raise NotImplementedError

    def carry(self, letter: str, to: str) -> None:
        self.carry_token(f"#token-{letter}", f".bench-cell-{to}")

    def carry_token(self, token: str, target: str) -> None:
        """Take what can be carried to where it can be put down."""
        self.press(self.page.locator(token))
        self.press(self.page.locator(f"{target} .bench-drop"))

    def choose(self, control: Locator, value: str) -> None:
        control.select_option(value)

    def type(self, control: Locator, text: str) -> None:
        control.fill(text)

    def on_the_ring(self, angle: float) -> tuple[float, float]:
        """Where a handle stands at an angle, in the window."""
        field = self.page.locator("#drawing-station .drawing-field")
        field.scroll_into_view_if_needed()
        box = field.bounding_box()
        assert box
        unit, turn = box["width"] / self.DRAWING, math.radians(angle)
        x, y = box["x"] + 200 * unit, box["y"] + 200 * unit
        return x + self.GRIP * unit * math.sin(turn), y - self.GRIP * unit * math.cos(turn)


class Mouse(Hands):
    def press(self, target: Locator) -> None:
        target.click()

    def carry_token(self, token: str, target: str) -> None:
        self.page.locator(target).scroll_into_view_if_needed()
        self.page.locator(token).scroll_into_view_if_needed()
        start = self.page.locator(token).bounding_box()
        end = self.page.locator(target).bounding_box()
        assert start
        assert end
        self.page.mouse.move(start["x"] + start["width"] / 2, start["y"] + start["height"] / 2)
        self.page.mouse.down()
        self.page.mouse.move(end["x"] + end["width"] / 2, end["y"] + end["height"] / 2, steps=8)
        self.page.mouse.up()

    def turn_knob(self, do: str, angle: float) -> None:
        self.on_the_ring(angle)  # scrolls before the knob's place is taken
        knob = self.page.locator(f"#knob-{do}").bounding_box()
        assert knob
        self.page.mouse.move(knob["x"] + knob["width"] / 2, knob["y"] + knob["height"] / 2)
        self.page.mouse.down()
        for step in (angle / 2, angle):
            self.page.mouse.move(*self.on_the_ring(step), steps=4)
        self.page.mouse.up()


class Finger(Hands):
    def press(self, target: Locator) -> None:
        target.tap()

    def turn_knob(self, do: str, angle: float) -> None:  # noqa: ARG002 -- a drawing has one ring
        self.page.touchscreen.tap(*self.on_the_ring(angle))


class Keys(Hands):
    def __init__(self, page: Page) -> None:
        super().__init__(page)
        self.keyboard = Keyboard(page)

    def press(self, target: Locator) -> None:
        self.keyboard.back_or_on_to(target).press("Enter")

    def choose(self, control: Locator, value: str) -> None:
        label = control.locator(f"option[value='{value}']").inner_text()
        self.keyboard.back_or_on_to(control).type(label)

    def type(self, control: Locator, text: str) -> None:
        self.keyboard.back_or_on_to(control).replace(text)

    def fit_at(self, form: Locator, angle: float) -> None:  # noqa: ARG002 the knob itself sends
        self.turn_knob("fit-weight", angle)
        self.keyboard.press("Enter")

    def turn_knob(self, do: str, angle: float) -> None:
        knob = self.page.locator(f"#knob-{do}")
        keyboard = self.keyboard.back_or_on_to(knob).press("Home")
        missing = round(angle - self._drawn_deg(knob)) % 360
        # The wheel is turned under the dial: more degrees under it turn the wheel the other way.
        coarse, fine = divmod(360 - missing if do == "read-dial" else missing, 15)
        for _ in range(coarse):
            keyboard.press("PageUp")
        for _ in range(fine):
            keyboard.press("ArrowRight")

    def _drawn_deg(self, knob: Locator) -> float:
        """Where a handle stands in the drawing."""
        x, y = self.on_the_ring(0)
        box = knob.bounding_box()
        field = self.page.locator("#drawing-station .drawing-field").bounding_box()
        assert box
        assert field
        middle = y + self.GRIP * field["width"] / self.DRAWING
        right, down = box["x"] + box["width"] / 2 - x, box["y"] + box["height"] / 2 - middle
        return math.degrees(math.atan2(right, -down)) % 360
