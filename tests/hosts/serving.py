"""The calculation server in the tests: asked within this process, or run as a process of its own."""

from __future__ import annotations

import asyncio
import io
import json
import os
import queue
import re
import signal
import subprocess
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

import httpx

from rigxl.errors import CellError
from rigxl.hosts.server.app import application
from rigxl.hosts.server.log import Log
from rigxl.hosts.server.settings import Settings

HERE = "http://127.0.0.1:8765"


class Asked:
    """A server within this process, and its log."""

    def __init__(self, settings: Settings | None = None) -> None:
        self.stream = io.BytesIO()
        self.app = application(settings or Settings(), Log(self.stream))

    def __call__(self, method: str, path: str, **more: Any) -> httpx.Response:
        """One request."""
        return asyncio.run(self.together((method, path, more)))[0]

    async def together(self, *requests: tuple[str, str, dict[str, Any]]) -> list[httpx.Response]:
        """Several requests at once."""
        transport = httpx.ASGITransport(self.app, client=("127.0.0.1", 4321))
        async with httpx.AsyncClient(transport=transport, base_url=HERE) as client:
            asked = (client.request(method, path, **more) for method, path, more in requests)
            return list(await asyncio.gather(*asked))

    def calculate(self, *calls: Any) -> list[Any]:
        """The answers to a batch that is taken."""
        answer = self("POST", "/calculate", json={"calls": list(calls)})
        assert answer.status_code == 200, answer.text
        answers = answer.json()["answers"]
        assert len(answers) == len(calls)
        return list(answers)

    @property
    def log(self) -> list[dict[str, Any]]:
        """The lines of the log."""
        return [json.loads(line) for line in self.stream.getvalue().splitlines()]


def problem(answer: httpx.Response) -> tuple[int, str, str]:
    """Status, code and sentence of a refusal; it has nothing else."""
    body = answer.json()
    assert body.keys() == {"error"}
    assert body["error"].keys() == {"code", "sentence"}
    return answer.status_code, body["error"]["code"], body["error"]["sentence"]


def call(function: str, *arguments: object) -> dict[str, Any]:
    """A call as it is sent."""
    return {"function": function, "arguments": [sent(one) for one in arguments]}


def sent(argument: object) -> Any:
    """An argument as it is sent."""
    if isinstance(argument, CellError):
        return {"error": str(argument)}
    if isinstance(argument, list | tuple):
        return [[sent(cell) for cell in row] for row in argument]
    return argument


class Process:
    """``rigxl serve`` as a process of its own."""

    def __init__(self, process: subprocess.Popen[str]) -> None:
        self.process = process
        self.lines: list[str] = []
        self._fresh: queue.SimpleQueue[str] = queue.SimpleQueue()
        threading.Thread(target=self._read, daemon=True).start()
        address = re.search(r"serves at (.+?);", self.wait_for("serves at"))
        assert address
        self.address = address[1]
        self.wait_for("Started server process")

    def _read(self) -> None:
        assert self.process.stderr
        for line in self.process.stderr:
            self.lines.append(line)
            self._fresh.put(line)

    def wait_for(self, words: str) -> str:
        """The next line on stderr with these words."""
        while True:
            try:
                line = self._fresh.get(timeout=30)
            except queue.Empty:
                raise AssertionError(f"no '{words}' in: {''.join(self.lines)}") from None
            if words in line:
                return line

    def stop(self) -> int:
        """Ask it to stop as a service manager does; its exit code."""
        self.process.send_signal(signal.SIGTERM)
        return self.process.wait(timeout=60)


@contextmanager
def running(*options: str, token: str = "") -> Iterator[Process]:
    """A server on a free port."""
    environment = {**os.environ, **({"RIGXL_TOKEN": token} if token else {})}
    command = [sys.executable, "-m", "rigxl", "serve", "--port", "0", *options]
    with subprocess.Popen(command, stderr=subprocess.PIPE, text=True, env=environment) as process:
        try:
            yield Process(process)
        finally:
            if process.poll() is None:
                process.kill()
