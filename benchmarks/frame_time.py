"""Time of one frame while the ball turns, under software WebGL, against a plain three.js sphere in the same browser.

The sphere is the smallest scene one would write: 128 by 64 segments, one light, the same canvas.  Each frame
is finished before the next is asked for, by reading one pixel back.  The ball is drawn as a maker sees it
turn: where frames are slow it goes coarser by itself, until it rests.
"""

import http.server
import json
import tempfile
import threading
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from typing import Any

from benchmarks.balls import ball_a, ball_a20k
from benchmarks.studio import served
from polestitch.document.codec import written

THREE = Path(__file__).parents[1] / "web/node_modules/three/build"
FLAGS = ("--use-angle=swiftshader", "--enable-unsafe-swiftshader", "--no-sandbox", "--disable-background-networking")
VIEW = {"width": 1440, "height": 900}
SPHERE = """<body style="margin:0"><canvas width="784" height="736"></canvas><script type="module">
import * as T from './three.module.js';
const canvas = document.querySelector('canvas'), renderer = new T.WebGLRenderer({ canvas });
const scene = new T.Scene(), camera = new T.PerspectiveCamera(26, 784 / 736, 0.1, 60), light = new T.DirectionalLight();
const ball = new T.Mesh(new T.SphereGeometry(1, 128, 64), new T.MeshStandardMaterial({ color: 0x2b4c7e }));
light.position.set(-1, 1, 1); camera.position.z = 5.4; scene.add(ball, light);
canvas.tabIndex = 0; let frames = 0;
canvas.addEventListener('keydown', () => requestAnimationFrame(() => {
  ball.rotation.y += 0.02; renderer.render(scene, camera); canvas.dataset.frames = String(++frames); }));
canvas.dataset.frames = '0'; canvas.dataset.revision = '1';
</script>"""
TURN = """async () => {
  const canvas = document.querySelector('canvas'), gl = canvas.getContext('webgl2');
  const pixel = new Uint8Array(4), all = [];
  for (let k = 0; k < 24; k++) {
    const before = canvas.dataset.frames, began = performance.now();
    canvas.dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowLeft', shiftKey: true }));
    while (canvas.dataset.frames === before) await new Promise((go) => requestAnimationFrame(go));
    gl.readPixels(0, 0, 1, 1, gl.RGBA, gl.UNSIGNED_BYTE, pixel);
    if (k > 3) all.push(performance.now() - began);
  }
  return all.sort((a, b) => a - b)[all.length >> 1];
}"""


def rows() -> list[tuple[str, float, float]]:
    """(goal, ratio, aim); the ratios are stated, not promised, so the aims are generous."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright, tempfile.TemporaryDirectory() as folder:
        browser = playwright.chromium.launch(executable_path="/usr/bin/chromium", args=list(FLAGS))
        with served(Path(folder)) as port, sphere_served(Path(folder)) as sphere:
            plain = frame_ms(browser, sphere)
            light, heavy = (
                frame_ms(browser, f"http://127.0.0.1:{port}/#/bench/{imported(port, written(ball()))}")
                for ball in (ball_a, ball_a20k)
            )
        browser.close()
    return [
        (f"<= frame of ball A ({light:.0f} ms) : plain three.js sphere ({plain:.0f} ms)", light / plain, 4.0),
        (f"<= frame of ball A20k ({heavy:.0f} ms) : plain three.js sphere ({plain:.0f} ms)", heavy / plain, 6.0),
    ]


def frame_ms(browser: Any, address: str) -> float:
    """Median time from asking for a turn to the finished frame."""
    page = browser.new_page(viewport=VIEW)
    page.goto(address)
    page.wait_for_selector("canvas[data-revision]", timeout=120_000)
    page.wait_for_timeout(3000)
    found = float(page.evaluate(TURN))
    page.close()
    return found


def imported(port: int, text: str) -> str:
    """The id of a design put on the shelf."""
    end = "--polestitch"
    head = f'--{end}\r\nContent-Disposition: form-data; name="file"; filename="ball.json"\r\n\r\n'
    body = f"{head}{text}\r\n--{end}--\r\n".encode()
    kind = {"content-type": f"multipart/form-data; boundary={end}"}
    request = urllib.request.Request(f"http://127.0.0.1:{port}/api/designs/import", body, kind)
    with urllib.request.urlopen(request, timeout=120) as answer:
        return str(json.load(answer)["id"])


@contextmanager
def sphere_served(folder: Path) -> Iterator[str]:
    """The address of the plain sphere's page."""
    site = folder / "sphere"
    site.mkdir()
    (site / "index.html").write_text(SPHERE)
    for module in THREE.glob("three.*.js"):
        (site / module.name).write_bytes(module.read_bytes())
    handler = partial(_Silent, directory=str(site))
    with http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler) as server:
        threading.Thread(target=server.serve_forever, daemon=True).start()
        yield f"http://127.0.0.1:{server.server_port}/"
        server.shutdown()


class _Silent(http.server.SimpleHTTPRequestHandler):
    """Files, without a word."""

    def log_message(self, *_words: object) -> None:
        """Say nothing."""
