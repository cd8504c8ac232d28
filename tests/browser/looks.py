"""What must hold for every page on the screen: axe finds nothing, nothing hangs over, no target is small."""

from pathlib import Path
from typing import Any

from playwright.sync_api import Page

from tests.browser.watch import DESK, NARROWEST, PHONE

AXE = Path(__file__).parent / "vendor" / "axe-core" / "axe.min.js"

NEXT_FRAME = "() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))"

RUN_AXE = """async () => {
  const found = await axe.run(document, {
    resultTypes: ["violations"],
    rules: { "target-size": { enabled: true } },
  });
  return found.violations.flatMap(rule => rule.nodes.map(node =>
    `${rule.id}: ${rule.help}: ${node.target.join(" ")} (${node.failureSummary.replaceAll(/\\s+/g, " ")})`));
}"""

HANGS_OVER = """() => {
  const width = window.innerWidth;
  if (document.scrollingElement.scrollWidth <= width) return [];
  const over = [...document.body.querySelectorAll("*")].filter(
    each => each.getBoundingClientRect().right > width + 0.5 && !each.closest(".table-scroll, svg"));
  return [`${document.scrollingElement.scrollWidth} px wide in ${width}`,
          ...over.slice(0, 5).map(each => each.outerHTML.slice(0, 120))];
}"""

# A finger needs 44 px (WCAG 2.5.5), a link within a line of text 24 px (2.5.8). A tick box is as large as its
# label, for either takes the finger; a link in text is as high as its line.
SMALL_TARGETS = """() => {
  const seen = each => each.checkVisibility({ visibilityProperty: true }) && each.getClientRects().length > 0;
  const small = [];
  for (const each of document.querySelectorAll("a[href], button, input, select, textarea, summary")) {
    if (!seen(each) || each.type === "hidden" || each.matches(".skip-link")) continue;
    let height = each.getBoundingClientRect().height;
    let least = 44;
    if (each.labels?.length && ["radio", "checkbox"].includes(each.type)) {
      height = Math.max(height, each.labels[0].getBoundingClientRect().height);
    } else if (each.matches("a") && getComputedStyle(each).display === "inline") {
      least = 24;
      height = Math.max(height, parseFloat(getComputedStyle(each).lineHeight));
    }
    if (height < least - 0.5) small.push(`${height} px high, not ${least}: ${each.outerHTML.slice(0, 160)}`);
  }
  return small;
}"""


def axe_faults(page: Page) -> list[str]:
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found: Any = page.evaluate(RUN_AXE)
    return list(found)


def faults(page: Page) -> list[str]:
    """Everything that is wrong with the page as it now stands, at the widths of a desk, a phone and less."""
    found = []
    for size, checks in (
        (DESK, [axe_faults, small_targets]),
        (PHONE, [axe_faults, small_targets, hangs_over]),
        (NARROWEST, [hangs_over]),
    ):
        page.set_viewport_size(size)  # type: ignore[arg-type]
        page.evaluate(NEXT_FRAME)  # what a page does on being resized is done by then
        found += [f"at {size['width']} px: {fault}" for check in checks for fault in check(page)]
    return found


def require_no_fault(page: Page) -> None:
    found = faults(page)
    assert not found, "\n".join(found)


def small_targets(page: Page) -> list[str]:
    return list(page.evaluate(SMALL_TARGETS))


def hangs_over(page: Page) -> list[str]:
    return list(page.evaluate(HANGS_OVER))


MOST_BYTES = 150_000
BYTES = """() => [...performance.getEntriesByType("navigation"), ...performance.getEntriesByType("resource")]
  .reduce((sum, each) => sum + each.encodedBodySize + 300, 0)"""
"""Of the page and all it shows, as they come over the wire to a browser that has nothing kept yet; 300 of
each are its headers."""


def weight(page: Page) -> int:
    return int(page.evaluate(BYTES))
