"""Starts the real server on a folder of its own, and holds every reply to web/contract/openapi.yaml."""

from __future__ import annotations

import http.client
import json
import re
import subprocess
import tempfile
from pathlib import Path
from urllib.parse import urlsplit

import yaml
from jsonschema import Draft202012Validator, FormatChecker, RefResolver

ROOT = Path(__file__).resolve().parents[2]
CONTRACT = yaml.safe_load((ROOT / "web/contract/openapi.yaml").read_text(encoding="utf-8"))


def resolved(node: dict) -> dict:
    """The node that a $ref leads to."""
    while "$ref" in node:
        target = CONTRACT
        for part in node["$ref"][2:].split("/"):
            target = target[part]
        node = target
    return node


def validator(name: str) -> Draft202012Validator:
    """A validator for a schema of the contract."""
    return Draft202012Validator(
        {"$ref": f"#/components/schemas/{name}"},
        resolver=RefResolver("", CONTRACT),
        format_checker=FormatChecker(),
    )


def pattern_of(template: str) -> re.Pattern[str]:
    """The addresses that a path of the contract stands for."""
    return re.compile(re.sub(r"\\\{\w+\\\}", "[^/]+", re.escape(template)) + r"\Z")


PATHS = [(pattern_of(template), template, item) for template, item in CONTRACT["paths"].items()]


class Reply:
    """What came back."""

    def __init__(self, status: int, headers: dict[str, str], body: bytes) -> None:
        self.status, self.headers, self.body = status, headers, body

    def json(self) -> dict:
        return json.loads(self.body)


class Workbench:
    """A server, from its start to its stop; replies are held to the contract as they come."""

    def __init__(self, program: str, folder: str | None = None, options: tuple[str, ...] = ()) -> None:
        self.options = options
        self.own = tempfile.TemporaryDirectory(prefix="kw-http-") if folder is None else None
        self.folder = Path(self.own.name if self.own else folder)
        self.program = program
        self.seen: set[tuple[str, str, str]] = set()
        self.start()

    def start(self) -> None:
        command = [self.program, "serve", str(self.folder), "--port", "0", "--no-open", *self.options]
        self.process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
        line = self.process.stdout.readline()
        address = re.search(r"http://([\d.]+):(\d+)/", line)
        assert address, f"the server did not start: {line!r}"
        self.host, self.port = address.group(1), int(address.group(2))

    def stop(self) -> int:
        self.process.terminate()
        code = self.process.wait(timeout=20)
        self.process.stdout.close()
        return code

    def kill(self) -> None:
        self.process.kill()
        self.process.wait()
        self.process.stdout.close()

    def close(self) -> None:
        if self.process.poll() is None:
            self.stop()
        if self.own:
            self.own.cleanup()

    @property
    def origin(self) -> str:
        return f"http://{self.host}:{self.port}"

    def ask(self, method: str, target: str, body: object = None, headers: dict | None = None, host: str | None = None,
            port: int | None = None) -> Reply:
        """One request; `body` is sent as JSON unless it is bytes."""
        connection = http.client.HTTPConnection(host or self.host, port or self.port, timeout=60)
        sent = {"Origin": f"http://{host or self.host}:{port or self.port}"} if method != "GET" else {}
        data = body if isinstance(body, bytes) or body is None else json.dumps(body).encode()
        if data is not None:
            sent["Content-Type"] = "application/json"
        sent.update(headers or {})
        connection.request(method, target, data, sent)
        answer = connection.getresponse()
        reply = Reply(answer.status, {k.lower(): v for k, v in answer.getheaders()}, answer.read())
        connection.close()
        self.hold_to_contract(method, target, reply)
        return reply

    def hold_to_contract(self, method: str, target: str, reply: Reply) -> None:
        path = urlsplit(target).path
        for pattern, template, item in PATHS:
            if not pattern.match(path) or method.lower() not in item:
                continue
            responses = item[method.lower()]["responses"]
            key = str(reply.status) if str(reply.status) in responses else "default"
            assert key != "default" or reply.status >= 400, f"{method} {target}: {reply.status} is not in the contract"
            self.seen.add((method, template, key))
            content = resolved(responses[key]).get("content", {})
            kind = reply.headers.get("content-type", "").split(";")[0]
            if not content:
                return
            assert kind in content or (key == "default" and kind == "text/html"), f"{method} {target}: {kind}"
            schema = content.get(kind, {}).get("schema", {})
            if "json" in kind and "$ref" in schema:
                errors = list(validator(schema["$ref"].split("/")[-1]).iter_errors(reply.json()))
                assert not errors, f"{method} {target}: {errors[0].json_path}: {errors[0].message}"
            return
        if reply.status >= 400 and reply.headers.get("content-type") == "application/problem+json":
            errors = list(validator("Problem").iter_errors(reply.json()))
            assert not errors, f"{method} {target}: {errors[0].message}"

    # The page's ways of asking.
    def make(self, name: str, **source: object) -> None:
        reply = self.ask("POST", "/api/shelf", {"name": name, "from": source})
        assert reply.status == 201, reply.body

    def view(self, name: str) -> dict:
        reply = self.ask("GET", f"/api/pieces/{name}")
        assert reply.status == 200, reply.body
        return reply.json()

    def edit(self, name: str, base: int, *what: dict, **more: object) -> Reply:
        return self.ask("POST", f"/api/pieces/{name}/edits", {"base": base, "what": list(what), **more})
