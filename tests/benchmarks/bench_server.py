"""The calculation server under load, beside a bare ASGI echo under the same web server, in one run.

    python -m tests.benchmarks.bench_server [SECONDS]

Each request posts 100 calls. ``known`` sends one batch over and over, as a sheet that is worked out again
does; ``new`` goes round so many batches that no answer is remembered. The echo sends back what it was sent,
which is the floor for any server here. Each is measured in turns and its best kept, for a machine that does
other things too; the processor time that a request cost says the same without the others. Needs ``wrk``;
servers share one core where ``taskset`` is there.
"""

from __future__ import annotations

import contextlib
import json
import math
import os
import re
import shutil
import socket
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, NamedTuple

from starlette.types import Receive, Scope, Send

CALLS = 100
BATCHES = 400
"""40,000 calls: more than the server remembers."""
GOAL = 0.35
TURNS = 4
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


class Server(NamedTuple):
    """A server that runs."""

    port: int
    process: subprocess.Popen[bytes]

    def processor_seconds(self) -> float:
        """What it has used so far, where the system tells."""
        stat = Path(f"/proc/{self.process.pid}/stat")
        if not stat.exists():
            return math.nan
        user, system = stat.read_text(encoding="ascii").rpartition(")")[2].split()[11:13]
        return (int(user) + int(system)) / os.sysconf("SC_CLK_TCK")


@contextmanager
def running(*command: str) -> Iterator[Server]:
    """A server on a free port, on the first core where that can be said."""
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = int(free.getsockname()[1])
    line = [*pinned(0), sys.executable, "-m", *command, "--port", str(port)]
    with subprocess.Popen(line, stderr=subprocess.DEVNULL) as process:
        try:
            for _ in range(100):
                with contextlib.suppress(OSError):
                    socket.create_connection(("127.0.0.1", port)).close()
                    break
                time.sleep(0.1)
            yield Server(port, process)
        finally:
            process.terminate()


def pinned(core: int) -> list[str]:
    """What keeps a command on one core."""
    return ["taskset", "-c", str(core)] if shutil.which("taskset") else []


class Measured(NamedTuple):
    """One server under one load."""

    rate: float
    """Requests a second."""
    cost: float
    """Processor time of the server a request, in microseconds."""
    latencies: str


def measured(server: Server, connections: int, script: Path, seconds: float) -> Measured:
    """Under load for some seconds."""
    before = server.processor_seconds()
    address = f"http://127.0.0.1:{server.port}/calculate"
    load = ["wrk", "-t1", f"-c{connections}", f"-d{seconds}s", "--latency", "-s", str(script), address]
    done = subprocess.run([*pinned(1), *load], capture_output=True, text=True, check=False)
    spent = server.processor_seconds() - before
    assert done.returncode == 0, done.stderr
    assert "Non-2xx" not in done.stdout, done.stdout
    rate = re.search(r"Requests/sec:\s+([\d.]+)", done.stdout)
    count = re.search(r"(\d+) requests in", done.stdout)
    assert rate, done.stdout
    assert count, done.stdout
    latencies = re.findall(r"^ +(50|99)% +(\S+)", done.stdout, re.M)
    said = " ".join(f"p{share} {latency}" for share, latency in latencies)
    return Measured(float(rate[1]), spent / int(count[1]) * 1e6, said)


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
        loads = {
            "echo": (floor, scripts["new"]),
            "known": (ours, scripts["known"]),
            "new": (ours, scripts["new"]),
        }
        for connections in (1, 8):
            runs: dict[str, list[Measured]] = {name: [] for name in loads}
            for _ in range(TURNS):
                for name, (server, script) in loads.items():
                    runs[name].append(measured(server, connections, script, max(1, seconds // TURNS)))
            report(connections, runs)


def report(connections: int, runs: dict[str, list[Measured]]) -> None:
    """A line for each load, beside the echo."""
    floor_rate = max(run.rate for run in runs["echo"])
    floor_cost = min(run.cost for run in runs["echo"])
    for name, turns in runs.items():
        best = max(turns, key=lambda run: run.rate)
        cost = min(run.cost for run in turns)
        said = f"{best.rate:6.0f} requests/s  {best.latencies}  {cost:4.0f} us of the core"
        beside = f"{best.rate / floor_rate:.2f} by rate, {floor_cost / cost:.2f} by core"
        print(f"c={connections}  {name:5} {said}; of the echo {beside}; goal {GOAL}")


if __name__ == "__main__":
    main()
