"""A small client of the Language Server Protocol 3.17: starts a server and asks it over its standard streams."""

from __future__ import annotations

import json
import subprocess
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from queue import Empty, Queue
from typing import Any

PATIENCE = 30.0  # seconds; a server answers within one


class Client:
    """One server, and the texts that are open in it."""

    def __init__(self, command: Sequence[str], folder: Path) -> None:
        self.folder = folder
        self.server = subprocess.Popen(
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, cwd=folder
        )
        self.came: Queue[dict[str, Any]] = Queue()
        self.notes: list[dict[str, Any]] = []
        self.number = 0
        self.reader = threading.Thread(target=self._listen, daemon=True)
        self.reader.start()
        uri = folder.as_uri()
        self.ask(
            "initialize",
            {
                "processId": None,
                "rootUri": uri,
                "workspaceFolders": [{"uri": uri, "name": folder.name}],
                "capabilities": {
                    "workspace": {"configuration": True, "workspaceFolders": True},
                    "textDocument": {
                        "hover": {"contentFormat": ["markdown", "plaintext"]},
                        "completion": {"completionItem": {"documentationFormat": ["markdown", "plaintext"]}},
                    },
                },
            },
        )
        self.tell("initialized", {})

    def open(self, name: str, text: str) -> str:
        """Open a text under a name in the folder, written there too; its URI."""
        path = self.folder / name
        path.write_text(text, encoding="utf-8")
        document = {"uri": path.as_uri(), "languageId": "toml", "version": 1, "text": text}
        self.tell("textDocument/didOpen", {"textDocument": document})
        self.diagnosed(path.as_uri())
        return path.as_uri()

    def diagnosed(self, uri: str) -> list[dict[str, Any]]:
        """What the server finds in a text by itself; once it is said, the text has been read."""
        while True:
            for note in reversed(self.notes):
                if note["method"] == "textDocument/publishDiagnostics" and note["params"]["uri"] == uri:
                    return list(note["params"]["diagnostics"])
            self._take(f"diagnostics of {uri}")

    def at(self, uri: str, line: int, character: int) -> dict[str, Any]:
        """A position as the protocol words it, counted from zero."""
        return {"textDocument": {"uri": uri}, "position": {"line": line, "character": character}}

    def ask(self, method: str, params: Any) -> Any:
        """Send a request and wait for its result, answering meanwhile what the server asks."""
        self.number += 1
        self._send({"jsonrpc": "2.0", "id": self.number, "method": method, "params": params})
        while True:
            message = self._take(f"an answer to {method}")
            if message is not None and message.get("id") == self.number:
                if "error" in message:
                    raise RuntimeError(f"{method}: {message['error']}")
                return message["result"]

    def tell(self, method: str, params: Any) -> None:
        """Send a notification."""
        self._send({"jsonrpc": "2.0", "method": method, "params": params})

    def _take(self, wanted: str) -> dict[str, Any] | None:
        """The next answer; None where the server said or asked something, which is noted or answered."""
        try:
            message = self.came.get(timeout=PATIENCE)
        except Empty:
            raise TimeoutError(f"{wanted} did not come") from None
        if "method" not in message:
            return message
        if "id" not in message:
            self.notes.append(message)
            return None
        items = (message.get("params") or {}).get("items", [])
        answer = [None] * len(items) if message["method"] == "workspace/configuration" else None
        self._send({"jsonrpc": "2.0", "id": message["id"], "result": answer})
        return None

    def _send(self, message: dict[str, Any]) -> None:
        body = json.dumps(message).encode()
        assert self.server.stdin is not None
        self.server.stdin.write(b"Content-Length: %d\r\n\r\n" % len(body) + body)
        self.server.stdin.flush()

    def _listen(self) -> None:
        out = self.server.stdout
        assert out is not None
        while head := out.readline():
            length = 0
            while head.strip():
                name, _, value = head.partition(b":")
                length = int(value) if name.lower() == b"content-length" else length
                head = out.readline()
            self.came.put(json.loads(out.read(length)))


@contextmanager
def language_server(command: Sequence[str], folder: Path) -> Iterator[Client]:
    """A server that runs as long as it is needed."""
    client = Client(command, folder)
    try:
        yield client
        client.ask("shutdown", None)
        client.tell("exit", None)
        client.server.wait(PATIENCE)
    finally:
        client.server.kill()
        client.server.wait()
        client.reader.join()
        for stream in (client.server.stdin, client.server.stdout):
            assert stream is not None
            stream.close()
