"""Working a page by its keys alone: Tab until something has the focus, which must then be seen."""

from typing import Any

from playwright.sync_api import Error, Locator, Page

MOST_TABS = 400

_FOCUS = """() => {
  const on = document.activeElement;
  const box = on.getBoundingClientRect();
  const style = getComputedStyle(on);
  const shown = [on, on.closest('label'), on.parentElement].filter(Boolean).some((each) => {
    const its = getComputedStyle(each);
    return (its.outlineStyle !== 'none' && parseFloat(its.outlineWidth) >= 2) || its.boxShadow !== 'none';
  });
  return {
    lost: on === document.body,
    seen: shown && box.width > 0 && box.bottom > 0 && box.top < innerHeight && style.visibility === 'visible',
    what: on.outerHTML.slice(0, 160),
  };
}"""


class Keyboard:
    """Somebody without a pointer."""

    def __init__(self, page: Page) -> None:
        self.page = page

    def to(self, wanted: Locator, *, back: bool = False) -> Locator:
        """Tab on to `wanted`; on the way each thing that takes the focus shows it, and none holds it."""
        for _ in range(MOST_TABS):
            self.page.keyboard.press("Shift+Tab" if back else "Tab")
            self._sees_focus()
            if wanted.count() and wanted.first.evaluate("(each) => each === document.activeElement"):
                return wanted.first
        raise AssertionError(f"{MOST_TABS} times Tab did not lead to {wanted}")

    def _sees_focus(self) -> None:
        """What has the focus is to be seen, where a list that just came anew moved it within a moment."""
        for _ in range(20):
            focus = self._focus()
            if focus["lost"] or focus["seen"]:
                return
            self.page.wait_for_timeout(100)
        raise AssertionError(f"the focus is not to be seen: {focus['what']}")

    def _focus(self) -> dict[str, Any]:
        """What has the focus; where a page is just left, on the one that follows."""
        for _ in range(3):
            try:
                found: dict[str, Any] = self.page.evaluate(_FOCUS)
            except Error:
                self.page.wait_for_timeout(500)
                self.page.wait_for_load_state()
            else:
                return found
        raise AssertionError("the page was left again and again")

    def press(self, wanted: Locator, key: str = "Enter") -> None:
        """Go to it and press a key."""
        self.to(wanted)
        self.page.keyboard.press(key)
        # Where the key leads to another page, that page is there before the next one.
        self.page.wait_for_timeout(250)
        self.page.wait_for_load_state()

    def write(self, wanted: Locator, text: str) -> None:
        """Go to a field and write into it, over what stands there."""
        self.to(wanted)
        self.page.keyboard.press("Control+A")
        self.page.keyboard.type(text)

    def choose(self, wanted: Locator, label: str) -> None:
        """Go to a list and choose by its first letters, as the browser offers it."""
        self.to(wanted)
        self.page.keyboard.type(label)

    def goes_on(self) -> None:
        """The next Tab goes on from where one was, not from the top of the page."""
        for _ in range(30):
            if not self._focus()["lost"]:
                return
            self.page.wait_for_timeout(100)
        raise AssertionError("the focus was lost: the next Tab begins at the top of the page")
