"""Opens pages in the Chromium that the system has; without one these tests are skipped in one line."""

from __future__ import annotations

import importlib.util
import os
import shutil
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from moveplan.outputs.documents.page import page_html
from moveplan.outputs.outlook import Outlook
from tests.journal.replay import outlook_of
from tests.outputs.hostile import hostile
from tests.outputs.scene import impossible, moving_day, risk

ARGUMENTS = (
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
)
EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
Phone = Callable[..., Page]
OUTLOOKS: dict[str, Callable[[], Outlook]] = {
    "planned": moving_day,
    "simulated": lambda: replace(moving_day(), risk=risk(10000)),
    "impossible": impossible,
    "hostile": lambda: hostile(replace(moving_day(), risk=risk(10000))),
}


def chromium() -> str:
    found = shutil.which("chromium") or shutil.which("chromium-browser") or shutil.which("google-chrome")
    if found is None and os.environ.get("MOVEPLAN_BROWSER_REQUIRED") == "1":
        pytest.fail("no Chromium is installed, and MOVEPLAN_BROWSER_REQUIRED=1 asks for one")
    if found is None:
        pytest.skip("no Chromium is installed")
    return found


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=chromium(), headless=True, args=list(ARGUMENTS))
        yield running
        running.close()


@pytest.fixture(scope="session")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folder = tmp_path_factory.mktemp("pages")
    found = {name: folder / f"{name}.html" for name in OUTLOOKS}
    for name, path in found.items():
        path.write_text(page_html(OUTLOOKS[name]()), encoding="utf-8", newline="\n")
    return found


class Opened:
    """A page with everything it complained about or asked for."""

    def __init__(self, page: Page, path: Path) -> None:
        self.page = page
        self.complaints: list[str] = []
        self.requests: list[str] = []
        page.on("console", lambda message: self.complaints.append(message.text))
        page.on("pageerror", lambda error: self.complaints.append(str(error)))
        page.on("dialog", lambda dialog: self.complaints.append(dialog.message))
        page.on("request", lambda request: self.requests.append(request.url))
        page.goto(path.as_uri())
        self.first = path.as_uri()


@pytest.fixture
def open_page(browser: Browser, files: dict[str, Path]) -> Iterator[Callable[..., Opened]]:
    """Open one of the pages, or any file: name or path, width, colour scheme, scripts."""
    contexts = []

    def _open(name: str | Path, *, width: int = 1280, dark: bool = False, scripts: bool = True) -> Opened:
        context = browser.new_context(
            viewport={"width": width, "height": 900},
            color_scheme="dark" if dark else "light",
            java_script_enabled=scripts,
            accept_downloads=True,
        )
        contexts.append(context)
        return Opened(context.new_page(), name if isinstance(name, Path) else files[name])

    yield _open
    for context in contexts:
        context.close()


def unfold(page: Page) -> None:
    """Open all that is folded."""
    page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")


Violations = Callable[[Page, bool, str], list[tuple[str, str]]]
RULES = ("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice")


@pytest.fixture(scope="session")
def violations() -> Violations:
    """Run the accessibility checker that axe-playwright-python brings: page, dark or not, ``screen`` or ``print``."""
    spec = importlib.util.find_spec("axe_playwright_python")
    if spec is None or spec.origin is None:
        if os.environ.get("MOVEPLAN_BROWSER_REQUIRED") == "1":
            pytest.fail("axe-playwright-python is not installed, and MOVEPLAN_BROWSER_REQUIRED=1 asks for it")
        pytest.skip("axe-playwright-python is not installed")
    script = (Path(spec.origin).parent / "axe.min.js").read_text(encoding="utf-8")

    def _run(page: Page, dark: bool, media: str) -> list[tuple[str, str]]:
        page.emulate_media(
            media="print" if media == "print" else "screen", color_scheme="dark" if dark else "light"
        )
        page.evaluate(script)
        found = page.evaluate(
            "(rules) => axe.run(document, { runOnly: rules, resultTypes: ['violations'], iframes: false })",
            list(RULES),
        )
        return [(one["id"], one["nodes"][0]["html"][:200]) for one in found["violations"]]

    return _run


@pytest.fixture(scope="module")
def page_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("card") / "index.html"
    path.write_text(page_html(outlook_of("house_move")), encoding="utf-8", newline="\n")
    return path


@pytest.fixture
def phone(browser: Browser, page_file: Path) -> Iterator[Phone]:
    """Open the card as somebody, at a moment, without a network; whatever a page complains about is a failure."""
    contexts = []
    complaints: list[str] = []

    def _open(person: str | None, minute: int, width: int = 390) -> Page:
        context = browser.new_context(viewport={"width": width, "height": 900}, offline=True)
        contexts.append(context)
        page = context.new_page()
        page.on("pageerror", lambda error: complaints.append(str(error)))
        page.clock.install(time=EPOCH + timedelta(minutes=minute))
        page.goto(page_file.as_uri())
        if person is not None:
            page.get_by_label("I am").select_option(label=person)
        return page

    yield _open
    for context in contexts:
        context.close()
    assert complaints == []
