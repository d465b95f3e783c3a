"""
How long does a press at the bench take to its next drawing, and does the page grow?

A server of its own, a real Chromium of 1280 x 800, the keys of the bench: the time from
a key to the next line on the screen, with the network and without; then a thousand
presses and what they left behind. Beside it the same presses as a page would take them
that asks its server before it draws. Then, with ``--kills``, server and browser are
killed at random moments again and again, and every press that was drawn is looked for.
"""

# The settings read the folder of the records when they are first imported.
# ruff: noqa: PLC0415

import argparse
import os
import random
import shutil
import signal
import socket
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

SALLOWMERE = Path(__file__).resolve().parents[1] / "examples" / "sallowmere"
ARGS = ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-sync"]
SIZE = {"width": 1280, "height": 800}

FIRST, LAST = 3, 12
"""Lines of that device between which presses go to and fro: each takes one press."""

PRESS = """async (key) => {
  const app = window.bench, sender = app.sender;
  const before = sender.head(app.job()), start = performance.now();
  dispatchEvent(new KeyboardEvent("keydown", {key, code: key, bubbles: true}));
  // What is told counts at once, but is drawn when it lies on the disk.
  const waits = () =>
    sender.head(app.job()) === before || sender.queue.some((one) => one.row === null);
  while (waits()) {
    await new Promise((go) => setTimeout(go, 1));
    if (performance.now() - start > 5000)
      throw new Error(`nothing happened: ${app.screen}, ${app.told}`);
  }
  await new Promise((go) => requestAnimationFrame(() => setTimeout(go, 0)));
  return performance.now() - start;
}"""

READ_ON = """() => {
  const app = window.bench, line = app.line(app.job());
  while (app.cautionsFirst === line.number) app.readOn(line);
  return line.number;
}"""
"""Cautions that do not fit beside the line are read first, which tells nothing."""

ASKED = """async (line) => {
  const app = window.bench, sender = app.sender, job = app.job();
  const start = performance.now();
  const key = Array.from(crypto.getRandomValues(new Uint8Array(16)), String).join("");
  await sender.post("tell/", {bench: "bench 1", strokes: [{key: key.slice(0, 40),
    run: job.run.ref, act: "done", line, at: new Date().toISOString(), facts: {},
    after: sender.head(job)}]});
  await sender.read();
  app.draw();
  await new Promise((go) => requestAnimationFrame(() => setTimeout(go, 0)));
  return performance.now() - start;
}"""

GROWN = """async () => {
  const bases = await indexedDB.databases();
  return {elements: document.querySelectorAll("*").length, databases: bases.length,
          heap_mb: performance.memory.usedJSHeapSize / 1e6,
          waiting: window.bench.sender.queue.length};
}"""


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--presses", type=int, default=1000)
    parser.add_argument("--kills", type=int, default=0)
    parser.add_argument("--seed", type=int, default=1)
    said = parser.parse_args()
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "1"
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "turnscrew.web.settings")
    with tempfile.TemporaryDirectory() as folder:
        os.environ["TURNSCREW_HOME"] = f"{folder}/records"
        Path(folder, "records").mkdir()
        cookie, ref = prepared()
        if said.kills:
            kill_often(said.kills, Path(folder), cookie, random.Random(said.seed))
        else:
            with served() as address:
                measure(address, cookie, said.presses)
    print(f"device {ref}")


def prepared() -> tuple[str, str]:
    """Make records with one kitted device, and a session of the lead's."""
    import django

    django.setup()
    from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
    from django.contrib.sessions.backends.db import SessionStore
    from django.utils import timezone

    from turnscrew.core.model.job_state import Standing
    from turnscrew.files.batch_folder import is_of_batch, read_batch_folder
    from turnscrew.web.keeping.owner import first_owner
    from turnscrew.web.keeping.upgrade import bring_up_to_date
    from turnscrew.web.records.models import Job
    from turnscrew.web.records.services import booking, custody, descriptions

    now = timezone.now()
    bring_up_to_date()
    by = first_owner(now)
    assert by is not None
    contents = {path.name: path.read_bytes() for path in SALLOWMERE.iterdir()}
    handed_in = read_batch_folder({n: c for n, c in contents.items() if is_of_batch(n)})
    terms_text = contents["terms.yaml"].decode()
    batch = booking.load_folder(handed_in, terms_text, by=by, now=now)
    descriptions.keep_of_folder(contents, handed_in.terms, by=by, now=now)
    for state in ("diagnosed", "quoted", "kitted"):
        job = Job.objects.get(batch=batch, line=18)
        custody.move(job, Standing(state, "shelf", by.ref), by=by, now=now)
    session = SessionStore()
    session[SESSION_KEY] = str(by.user.pk)
    session[BACKEND_SESSION_KEY] = "django.contrib.auth.backends.ModelBackend"
    session[HASH_SESSION_KEY] = by.user.get_session_auth_hash()
    session.save()
    return session.session_key, job.number


@contextmanager
def served(port: int = 0) -> Iterator[str]:
    port = port or free_port()
    process = start_server(port)
    try:
        yield f"http://127.0.0.1:{port}"
    finally:
        os.killpg(process.pid, signal.SIGKILL)
        process.wait()


def free_port() -> int:
    with socket.socket() as listener:
        listener.bind(("127.0.0.1", 0))
        return listener.getsockname()[1]


def start_server(port: int) -> subprocess.Popen:
    words = [sys.executable, "-m", "turnscrew", "serve", "--port", str(port)]
    quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL}
    process = subprocess.Popen(words, start_new_session=True, **quiet)
    for _ in range(200):
        with socket.socket() as probe:
            probe.settimeout(0.2)
            if probe.connect_ex(("127.0.0.1", port)) == 0:
                return process
        time.sleep(0.1)
    raise SystemExit("the server did not start")


def opened(context, address: str, cookie: str):
    context.add_cookies([{"name": "sessionid", "value": cookie, "url": address}])
    page = context.pages[0] if context.pages else context.new_page()
    page.add_init_script(
        "localStorage.getItem('turnscrew-bench-settings') || localStorage.setItem("
        "'turnscrew-bench-settings', JSON.stringify({bench: 'bench 1', isQuiet: true}))"
    )
    page.goto(f"{address}/bench/")
    page.wait_for_function("() => window.bench && window.bench.sender.state.person")
    return page


def chosen(page, number: str) -> None:
    """Take the device onto the bench, or up again."""
    if page.evaluate("() => window.bench.openHere().length"):
        page.evaluate("() => window.bench.choose(window.bench.openHere()[0].ref)")
    else:
        page.keyboard.type(number)
        page.keyboard.press("Enter")
        page.get_by_role("button", name="Open it here").click()
    page.wait_for_function("() => window.bench.line(window.bench.job())")
    page.evaluate("() => window.bench.open('work')")


def measure(address: str, cookie: str, n_presses: int) -> None:
    from playwright.sync_api import sync_playwright

    from turnscrew.web.records.models import Job

    number = Job.objects.get(line=18).number
    with sync_playwright() as driver:
        browser = driver.chromium.launch(
            executable_path=shutil.which("chromium"),
            args=[*ARGS, "--enable-precise-memory-info"],
        )
        context = browser.new_context(viewport=SIZE)
        page = opened(context, address, cookie)
        chosen(page, number)
        for _ in range(10):
            page.evaluate(PRESS, " ")
        print("from a key to the next line on the screen [ms]")
        online = told("with the network", presses(page, 200))
        context.set_offline(True)
        told("without it", presses(page, 200))
        context.set_offline(False)
        page.wait_for_function("() => !window.bench.sender.queue.length", timeout=60000)
        asked = told("a page that asks first", presses_asked(page, 60))
        print(f"ratio of medians: {asked / online:.1f}")
        before = page.evaluate(GROWN)
        presses(page, n_presses)
        page.wait_for_function("() => !window.bench.sender.queue.length", timeout=90000)
        after = page.evaluate(GROWN)
        print(f"{n_presses} presses: {before} before, {after} after")
        browser.close()


def presses(page, n: int) -> list[float]:
    """Go forward and back over the same lines, so that there is always a next one."""
    return [page.evaluate(PRESS, "Backspace" if k % 2 else " ") for k in range(n)]


def presses_asked(page, n: int) -> list[float]:
    took = []
    for _ in range(n):
        line = page.evaluate("() => window.bench.line(window.bench.job()).number")
        took.append(page.evaluate(ASKED, line))
        page.evaluate(PRESS, "Backspace")
        page.wait_for_function("() => !window.bench.sender.queue.length")
    return took


def told(what: str, took: list[float]) -> float:
    ranked = sorted(took)
    p95 = ranked[int(0.95 * len(ranked))]
    middle = statistics.median(ranked)
    print(
        f"  {what}: median {middle:.1f}, 95 % below {p95:.1f}, worst {ranked[-1]:.1f}"
    )
    return middle


def kill_often(n_kills: int, folder: Path, cookie: str, chance: random.Random) -> None:
    from playwright.sync_api import sync_playwright

    from turnscrew.web.records.models import BenchStroke, Job

    number = Job.objects.get(line=18).number
    port = free_port()
    n_drawn = n_lost = n_worst = 0
    with sync_playwright() as driver:
        for _ in range(n_kills):
            server = start_server(port)
            context = driver.chromium.launch_persistent_context(
                str(folder / "browser"),
                executable_path=shutil.which("chromium"),
                args=ARGS,
                viewport=SIZE,
            )
            page = opened(context, f"http://127.0.0.1:{port}", cookie)
            chosen(page, number)
            keys = pressed_until_killed(page, server, folder, chance)
            n_drawn += len(keys)
            server = start_server(port)
            context = driver.chromium.launch_persistent_context(
                str(folder / "browser"),
                executable_path=shutil.which("chromium"),
                args=ARGS,
                viewport=SIZE,
            )
            page = opened(context, f"http://127.0.0.1:{port}", cookie)
            page.wait_for_function("() => !window.bench.sender.queue.length")
            there = set(BenchStroke.objects.values_list("client_key", flat=True))
            lost = len(set(keys) - there)
            n_lost += lost
            n_worst = max(n_worst, lost)
            context.close()
            os.killpg(server.pid, signal.SIGKILL)
            server.wait()
    standings = set(BenchStroke.objects.values_list("standing", flat=True))
    print(
        f"{n_kills} kills of server and browser, {n_drawn} presses drawn, {n_lost}"
        f" lost, at most {n_worst} at once; every one stands as {', '.join(standings)}"
    )


def pressed_until_killed(
    page, server: subprocess.Popen, folder: Path, chance: random.Random
) -> list[str]:
    """Press until both are killed; give the keys of the presses that were drawn."""
    keys = []
    for _ in range(chance.randint(1, 12)):
        at = page.evaluate(READ_ON)
        is_forward = at < FIRST or (at < LAST and chance.random() < 0.6)
        page.evaluate(PRESS, " " if is_forward else "Backspace")
        keys.append(page.evaluate("() => window.bench.sender.head(window.bench.job())"))
        if chance.random() < 0.3:
            page.context.set_offline(chance.random() < 0.5)
    os.killpg(server.pid, signal.SIGKILL)
    server.wait()
    # Every process of this browser carries its folder in its words.
    subprocess.run(["pkill", "-9", "-f", str(folder / "browser")], check=False)
    time.sleep(0.3)
    return keys


if __name__ == "__main__":
    main()
