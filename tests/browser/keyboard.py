"""Going through pages with the keyboard alone, and looking at every stop whether its place can be seen."""

from playwright.sync_api import Locator, Page

from app.domain.answers import Raw
from app.domain.tasks import AnyTask, ChoiceTask, OrderTask, PlacementTask
from app.domain.variants import Variant
from tests.browser import lab_page

MOST_STOPS = 200

# Why nobody could see where the focus is; empty where it can be seen. What counts is the first line of a link
# in text, the label of a tick box, and of something tall, such as a box for several lines, where typing goes.
FAULT_OF_THE_FOCUS = """() => {
  const at = document.activeElement;
  if (!at || at === document.body) return "";
  // The button inside that opens the calendar gets the browser's own ring.
  if (at.type === "datetime-local" && !at.matches(":focus-visible")) return "";
  const name = at.outerHTML.slice(0, 120);
  const frame = ["radio", "checkbox"].includes(at.type) ? at.labels[0] : at;
  const style = getComputedStyle(frame);
  if (style.outlineStyle === "none" || parseFloat(style.outlineWidth) < 2) return `no outline: ${name}`;
  const box = frame.getClientRects()[0];
  if (!box || box.width < 1 || box.height < 1) return `nothing to see: ${name}`;
  const tall = box.height > 120;
  const [top, bottom] = [Math.max(box.top, 0), Math.min(box.bottom, innerHeight)];
  if (bottom - top < (tall ? 40 : box.height - 1)) return `out of sight: ${name}`;

  const opaque = (each) => {
    for (; each && !each.contains(frame); each = each.parentElement) {
      if (!["rgba(0, 0, 0, 0)", "transparent"].includes(getComputedStyle(each).backgroundColor)) return true;
    }
    return false;
  };
  for (const y of tall ? [top + 20] : [top + 2, (top + bottom) / 2, bottom - 2]) {
    for (const x of [box.left + 3, (box.left + box.right) / 2, box.right - 3]) {
      const seen = document.elementFromPoint(x, y);
      if (seen && seen !== at && !frame.contains(seen) && opaque(seen)) {
        return `covered by ${seen.outerHTML.slice(0, 80)}: ${name}`;
      }
    }
  }
  return "";
}"""


class Keyboard:
    """One person at one page; fails as soon as the focus is somewhere that can't be seen."""

    def __init__(self, page: Page) -> None:
        self.page = page
        self.stops = 0

    def tab(self, key: str = "Tab") -> None:
        self.page.keyboard.press(key)
        self.stops += 1
        fault = self.page.evaluate(FAULT_OF_THE_FOCUS)
        assert not fault, fault

    def to(self, target: Locator, key: str = "Tab") -> "Keyboard":
        """Press Tab until the target has the focus."""
        target = target.first
        for _ in range(MOST_STOPS):
            if target.evaluate("each => each === document.activeElement"):
                return self
            self.tab(key)
        raise AssertionError(f"{MOST_STOPS} presses of {key} do not lead to {target}")

    def back_or_on_to(self, target: Locator) -> "Keyboard":
        """As `to`, with Shift where the target stands before: as who knows the page goes there."""
        before = target.first.evaluate(
            "each => document.activeElement.compareDocumentPosition(each) & Node.DOCUMENT_POSITION_PRECEDING"
        )
        return self.to(target, "Shift+Tab" if before else "Tab")

    def into(self, group: Locator) -> "Keyboard":
        """Press Tab until the focus is on one of the group's buttons."""
        for _ in range(MOST_STOPS):
            if group.evaluate("each => each.contains(document.activeElement)"):
                return self
            self.tab()
        raise AssertionError(f"{MOST_STOPS} presses of Tab do not lead into {group}")

    def press(self, key: str) -> "Keyboard":
        self.page.keyboard.press(key)
        return self

    def type(self, text: str) -> "Keyboard":
        self.page.keyboard.type(text)
        return self

    def replace(self, text: str) -> "Keyboard":
        self.press("Control+a")
        return self.type(text) if text else self.press("Delete")

    def choose(self, place: int) -> "Keyboard":
        """The radio button at this place of the group that the focus has just come into."""
        self.press("Space")
        for _ in range(place):
            self.press("ArrowDown")
        return self

    def open(self, target: Locator) -> "Keyboard":
        """Go to a link or button and press Enter."""
        return self.to(target).press("Enter")

    def give(self, task: AnyTask, variant: Variant, answer: Raw) -> None:
        """Put one answer of a lab in."""
        if isinstance(task, ChoiceTask):
            names = [option.id for option in task.options]
            self.into(lab_page.group(self.page, task)).choose(names.index(str(answer)))
        elif isinstance(task, PlacementTask):
            assert isinstance(answer, dict)
            for position, letter in answer.items():
                self.to(lab_page.corner(self.page, task, position)).type(f"Assembly {letter}")
        elif isinstance(task, OrderTask):
            assert isinstance(answer, dict)
            for name, place in sorted(answer.items(), key=lambda each: int(each[1])):
                self.to(lab_page.step(self.page, task, name)).replace(place).press("Enter")
        else:
            self.to(lab_page.field(self.page, task, variant)).type(str(answer))
