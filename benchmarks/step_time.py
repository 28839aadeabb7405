"""Step to step in the Chair: from the key to the frame that shows the next step, against an empty handler.

The reference is a bare page in the same browser whose key handler does nothing: it waits for the next frame all the
same.  Both begin just after a frame was painted, so a step that fits into one frame's budget gives a ratio near 1,
and one that misses it gives 2 or more.  The steps lie loaded, in the stitched part, at a maker's pace.
"""

import json
import tempfile
import urllib.request
from pathlib import Path
from typing import Any

from benchmarks.frame_time import FLAGS, VIEW
from benchmarks.studio import served

FROM = 120  # past the marking: steps with threads to light, the dear ones
AIM = 1.5
EMPTY = "<!doctype html><p class='say' data-step='0'>A step</p><script>addEventListener('keydown', () => {})</script>"
PRESS = """async (moves) => {
  const painted = () => new Promise((go) => requestAnimationFrame(() => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = go;
    port2.postMessage(0);
  }));
  const shown = () => Number(document.querySelector('.say').dataset.step), all = [];
  for (let k = 0; k < 24; k++) {
    await new Promise((go) => setTimeout(go, 1200));
    await painted();
    const before = shown(), began = performance.now();
    window.dispatchEvent(new KeyboardEvent('keydown', { key: ' ', cancelable: true }));
    await Promise.resolve();
    const worked = performance.now() - began;
    await painted();
    const frame = performance.now() - began;
    if (moves && shown() !== before + 1) throw new Error(`still at step ${before}`);
    if (k > 3) all.push([frame, worked]);
  }
  return [0, 1].map((part) => all.map((each) => each[part]).sort((a, b) => a - b)[all.length >> 1]);
}"""


def rows() -> list[tuple[str, float, float]]:
    """(goal, ratio, aim); the ratio is of medians over 20 steps."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright, tempfile.TemporaryDirectory() as folder:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=list(FLAGS))
        with served(Path(folder)) as port:
            step, worked = _stepping(browser, port)
        empty, _ = _nothing(browser)
        browser.close()
    took = f"{step:.1f} ms, script {worked:.1f} ms"
    told = f"step to step in the Chair, words painted ({took}) : empty handler ({empty:.1f} ms)"
    return [(f"<= {told}", step / empty, AIM)]


def _stepping(browser: Any, port: int) -> list[float]:
    """Median ms to the painted frame, and of the script alone."""
    design = _asked(port, "/designs", {"from": "example", "example": "quay-lamps"})["id"]
    piece = _asked(port, "/pieces", {"design": design, "name": "Lamp", "around": "248 mm"})["piece"]["id"]
    jump = {"kind": "jump", "to": FROM, "between": "done", "id": "0" * 32, "device": "bench", "seq": 1, "clock": 1}
    _asked(port, f"/pieces/{piece}/events", {"events": [{**jump, "at": "2026-01-05T19:00:00Z"}]})
    page = browser.new_page(viewport=VIEW)
    page.goto(f"http://127.0.0.1:{port}/#/chair/{piece}")
    page.wait_for_selector(f".say[data-step='{FROM}']", timeout=60_000)
    page.wait_for_selector(".seen canvas", timeout=60_000)
    page.wait_for_timeout(3000)
    found: list[float] = page.evaluate(PRESS, True)
    page.close()
    return found


def _nothing(browser: Any) -> list[float]:
    page = browser.new_page(viewport=VIEW)
    page.set_content(EMPTY)
    page.wait_for_timeout(500)
    found: list[float] = page.evaluate(PRESS, False)
    page.close()
    return found


def _asked(port: int, path: str, body: object) -> Any:
    head = {"content-type": "application/json"}
    request = urllib.request.Request(f"http://127.0.0.1:{port}/api{path}", json.dumps(body).encode(), head)
    with urllib.request.urlopen(request, timeout=60) as answer:
        return json.load(answer)
