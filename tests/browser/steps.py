"""What a person does on the pages, step by step."""

import re

from playwright.sync_api import Locator, Page, expect


def start(page: Page, form: str) -> None:
    """Open the figures of a form on the first screen."""
    page.goto("/")
    page.locator("summary").filter(has=page.get_by_text(form, exact=True)).click()


def new_job(page: Page, tab: str = "part") -> str:
    """Start a new job, a domed end; gives its address."""
    start(page, "Dome")
    page.get_by_role("button", name="Make the plan").click()
    page.wait_for_url(re.compile(r"/jobs/\w+/plan$"))
    address = page.url.removesuffix("/plan")
    if tab == "part":
        page.goto(f"{address}/part")
        expect(page.locator("#sentence")).to_contain_text("Nothing is wrong with the part.")
    return address


def open_pin(page: Page, tab: str = "plan") -> str:
    """Open a copy of the bridge pin, so that every test has its own; gives its address."""
    page.goto("/")
    name = page.get_by_role("link", name="Bridge pin, domed end", exact=True).get_attribute("href")
    assert name
    copy = page.request.post(f"/api/{name.strip('/').removesuffix('/plan')}/copy").json()["id"]
    page.goto(f"/jobs/{copy}/{tab}")
    if tab == "plan":
        planned(page)
    return f"/jobs/{copy}"


EDGE = [{"z": 0, "r": 2}, {"z": 2, "r": 0}, {"z": 5, "r": 0.5, "convex": 9}]
"""The outline of a form tool: a chamfer, then an arc."""


def open_formed(page: Page, outline: object = EDGE) -> str:
    """Open Shop of a job whose only tool is a form tool; gives the job's address."""
    page.goto("/")
    tool = {"name": "chamfer tool", "kind": "form", "outline": outline}
    dome = [{"z": 0, "d": 0}, {"z": -9, "d": 18, "convex": 9}, {"z": -24, "d": 18}]
    job = {"title": "Formed", "part": {"outline": dome, "curve": [0, -9]}, "stock": {"diameter": 20}, "tool": [tool]}
    kept = page.request.post("/api/jobs", data=job).json()["id"]
    page.goto(f"/jobs/{kept}/shop")
    expect(page.locator("#tools svg")).to_have_count(1 if outline else 0)
    return f"/jobs/{kept}"


def open_refused(page: Page) -> str:
    """Open Plan of a job that no tool of its drawer can make; gives the job's address."""
    page.goto("/")
    outline = [{"z": z, "d": d} for z, d in ((0, 20), (-5, 20), (-5, 10), (-9, 10), (-9, 20), (-20, 20))]
    blade = {"name": "blade", "kind": "grooving", "nose_radius": 0.1, "width": 3, "stem": 4, "shank": 12}
    job = {
        "title": "Groove of a winch drum",
        "part": {"outline": outline, "curve": [-5, -9]},
        "stock": {"diameter": 20.5, "proud": 0},
        "tool": [blade],
        "limits": {"bite": 3.5},
    }
    kept = page.request.post("/api/jobs", data=job).json()["id"]
    page.goto(f"/jobs/{kept}/plan")
    return f"/jobs/{kept}"


def planned(page: Page) -> None:
    """Wait until the plan stands, with all that follows it."""
    expect(page.locator("#sentence strong")).to_be_visible(timeout=60_000)
    expect(page.locator("#settings")).to_be_enabled()
    expect(page.locator("#minutes-figure")).not_to_have_text("–")


def saved(page: Page) -> None:
    expect(page.locator("#saved")).to_have_text("Saved")


def typed(field: Locator, text: str) -> None:
    """Type over what a field holds, and go on."""
    field.fill(text)
    field.press("Tab")
