"""The calculation server under load, beside a bare ASGI echo under the same web server, in one run.

    python -m tests.benchmarks.bench_server [SECONDS]

Each request posts 100 calls. ``known`` sends one batch over and over, as a sheet that is worked out again
does; ``new`` goes round so many batches that no answer is remembered. The echo sends back what it was sent,
which is the floor for any server here. Needs ``wrk``; servers share one core where ``taskset`` is there.
"""

from __future__ import annotations

import json
import re
import shutil
import socket
import subprocess
import sys
import tempfile
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from starlette.types import Receive, Scope, Send

CALLS = 100
BATCHES = 400
"""40,000 calls: more than the server remembers."""
GOAL = 0.35
SCRIPT = """
local bodies = {}
local at = 0
init = function()
  for line in io.lines("%s") do bodies[#bodies + 1] = wrk.format("POST", "/calculate", nil, line) end
end
request = function()
  at = at %% #bodies + 1
  return bodies[at]
end
"""


async def echo(_: Scope, receive: Receive, send: Send) -> None:
    """The floor: what came goes back."""
    body, more = b"", True
    while more:
        message = await receive()
        body += message["body"]
        more = message.get("more_body", False)
    headers = [(b"content-type", b"application/json"), (b"content-length", b"%d" % len(body))]
    await send({"type": "http.response.start", "status": 200, "headers": headers})
    await send({"type": "http.response.body", "body": body})


def batch(number: int) -> str:
    """A hundred calls of four functions; no two batches share one."""
    calls: list[dict[str, Any]] = []
    for at in range(number * CALLS, (number + 1) * CALLS, 4):
        load = 1000 + at / 8
        calls += [
            {"function": "LEGTENSION", "arguments": [load, 2, 60]},
            {"function": "REQUIREDCAPACITY", "arguments": [load, 0.25, 0.5]},
            {"function": "UTILISATION", "arguments": [load, 9000, 0.75]},
            {"function": "LOADANGLEFACTOR", "arguments": [30 + load % 60]},
        ]
    return json.dumps({"calls": calls}, separators=(",", ":"))


@contextmanager
def running(*command: str) -> Iterator[int]:
    """A server on a free port, on the first core where that can be said."""
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = int(free.getsockname()[1])
    pinned = ["taskset", "-c", "0"] if shutil.which("taskset") else []
    line = [*pinned, sys.executable, "-m", *command, "--port", str(port)]
    with subprocess.Popen(line, stderr=subprocess.DEVNULL) as server:
        try:
            for _ in range(100):
                try:
                    urllib.request.urlopen(f"http://127.0.0.1:{port}/healthz", data=b"{}", timeout=1).close()
                except urllib.error.HTTPError:
                    break
                except OSError:
                    time.sleep(0.1)
                else:
                    break
            yield port
        finally:
            server.terminate()


def rate(port: int, connections: int, script: Path, seconds: int) -> tuple[float, str]:
    """Requests a second, and the latencies as wrk says them."""
    pinned = ["taskset", "-c", "1"] if shutil.which("taskset") else []
    line = [*pinned, "wrk", "-t1", f"-c{connections}", f"-d{seconds}s", "--latency", "-s", str(script)]
    done = subprocess.run(
        [*line, f"http://127.0.0.1:{port}/calculate"], capture_output=True, text=True, check=False
    )
    said = done.stdout
    assert done.returncode == 0, done.stderr
    assert "Non-2xx" not in said, said
    found = re.search(r"Requests/sec:\s+([\d.]+)", said)
    assert found, said
    latencies = " ".join(re.findall(r"(?:50|99)%\s+\S+", said))
    return float(found[1]), re.sub(r"\s+", " ", latencies)


def main() -> None:
    """Measure, and say whether the goal is met."""
    seconds = int(sys.argv[1]) if len(sys.argv) > 1 else 6
    if not shutil.which("wrk"):
        sys.exit("wrk is not installed")
    with (
        tempfile.TemporaryDirectory() as folder,
        running("uvicorn", "tests.benchmarks.bench_server:echo", "--no-access-log") as floor,
        running("rigxl", "serve") as ours,
    ):
        scripts = {}
        for name, count in {"known": 1, "new": BATCHES}.items():
            lines = Path(folder) / f"{name}.jsonl"
            lines.write_text("\n".join(map(batch, range(count))) + "\n", encoding="utf-8")
            scripts[name] = Path(folder) / f"{name}.lua"
            scripts[name].write_text(SCRIPT % lines, encoding="utf-8")
        for connections in (1, 8):
            least, how = rate(floor, connections, scripts["new"], seconds)
            print(f"c={connections}  echo  {least:7.0f} requests/s  {how}")
            for name, script in scripts.items():
                got, how = rate(ours, connections, script, seconds)
                verdict = "met" if got >= GOAL * least else "missed"
                print(
                    f"c={connections}  {name:5} {got:7.0f} requests/s  {how}  "
                    f"{got / least:.2f} of the echo; {GOAL} is {verdict}"
                )


if __name__ == "__main__":
    main()
