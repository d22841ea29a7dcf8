"""What a TOML language server says of a file: its diagnostics, what it shows of the key `gauge`, and what it offers
below the last line.

Usage: language_server.py SERVER ARGUMENT... FILE
The file names its schema in its first line: `#:schema ./procedure.schema.json`.
"""

import json
import pathlib
import queue
import subprocess
import sys
import threading

SERVER, FILE = sys.argv[1:-1], pathlib.Path(sys.argv[-1]).resolve()
process = subprocess.Popen(SERVER, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL)
inbox = queue.Queue()
published = []


def read():
    """Puts every message of the server into the inbox."""
    while True:
        length = 0
        while (line := process.stdout.readline()) not in (b"\r\n", b""):
            if line.lower().startswith(b"content-length:"):
                length = int(line.split(b":")[1])
        if not length:
            return inbox.put(None)
        inbox.put(json.loads(process.stdout.read(length)))


def write(message):
    body = json.dumps({"jsonrpc": "2.0", **message}).encode()
    process.stdin.write(b"Content-Length: %d\r\n\r\n" % len(body) + body)
    process.stdin.flush()


def ask(number, method, params):
    """Sends a request and waits for its answer; what the server asks meanwhile is answered with nothing."""
    write({"id": number, "method": method, "params": params})
    while (message := inbox.get(timeout=20)) is not None:
        if "method" not in message:
            return message.get("result")
        if message["method"] == "textDocument/publishDiagnostics":
            published.extend(message["params"]["diagnostics"])
        if "id" in message:
            write({"id": message["id"], "result": None})
    sys.exit("the language server ended")


def main():
    text, uri, root = FILE.read_text(), FILE.as_uri(), FILE.parent.as_uri()
    document, lines = {"textDocument": {"uri": uri}}, FILE.read_text().splitlines()
    can = {"textDocument": {"hover": {"contentFormat": ["markdown"]}, "completion": {}, "diagnostic": {}}}
    folders = [{"uri": root, "name": "procedures"}]
    ask(1, "initialize", {"processId": None, "rootUri": root, "capabilities": can, "workspaceFolders": folders})
    write({"method": "initialized", "params": {}})
    opened = {"uri": uri, "languageId": "toml", "version": 1, "text": text}
    write({"method": "textDocument/didOpen", "params": {"textDocument": opened}})

    pulled = ask(2, "textDocument/diagnostic", document) or {}
    print("diagnostics")
    for found in sorted(pulled.get("items") or published, key=lambda found: found["range"]["start"]["line"]):
        print(f"  line {found['range']['start']['line'] + 1}: {found['message']}")

    line = next((number for number, line in enumerate(lines) if line.startswith("gauge =")), 0)
    shown = ask(3, "textDocument/hover", {**document, "position": {"line": line, "character": 1}}) or {}
    contents = shown.get("contents", "")
    contents = contents["value"] if isinstance(contents, dict) else str(contents)
    print("gauge")
    print("  " + contents.strip().splitlines()[0])

    end = {"line": len(lines), "character": 0}
    offered = ask(4, "textDocument/completion", {**document, "position": end}) or []
    offered = offered.get("items", []) if isinstance(offered, dict) else offered
    print("offered")
    print("  " + ", ".join(sorted({item["label"] for item in offered if item["label"].isidentifier()})))
    process.kill()


threading.Thread(target=read, daemon=True).start()
main()
