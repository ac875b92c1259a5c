"""Serves the built folder on this machine only, with the types and headers that a real host should send."""

from __future__ import annotations

import threading
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path

from .setup import Trouble

TYPES = {".wasm": "application/wasm", ".js": "text/javascript", ".mjs": "text/javascript", ".css": "text/css",
         ".html": "text/html; charset=utf-8", ".svg": "image/svg+xml", ".webmanifest": "application/manifest+json",
         ".whl": "application/octet-stream", ".zip": "application/zip", ".woff2": "font/woff2"}

# The highest port there is: it has 16 bits.
LAST_PORT = 65_535


class Handler(SimpleHTTPRequestHandler):
    """Files below one folder; hashed names may be kept for ever, everything else is asked for anew."""

    extensions_map = {**SimpleHTTPRequestHandler.extensions_map, **TYPES}
    protocol_version = "HTTP/1.1"
    # Filled by who serves: page addresses to the policy for them; the worker needs its own copy.
    policy = ""

    def send_response(self, code, message=None) -> None:
        self.status = int(code)
        super().send_response(code, message)

    def end_headers(self) -> None:
        # A missing file must not be remembered as missing.
        kept = "/assets/" in self.path and getattr(self, "status", 0) == 200
        self.send_header("Cache-Control", "public, max-age=31536000, immutable" if kept else "no-cache")
        self.send_header("X-Content-Type-Options", "nosniff")
        if self.policy:
            self.send_header("Content-Security-Policy", self.policy)
        super().end_headers()

    def log_message(self, *ignored) -> None:
        """Requests are not news."""


class Server(ThreadingHTTPServer):
    """A browser ends connections at will; that is no fault worth a traceback."""

    daemon_threads = True

    def handle_error(self, request, client_address) -> None:
        import sys
        if not isinstance(sys.exc_info()[1], (ConnectionError, BrokenPipeError)):
            super().handle_error(request, client_address)


def server(folder: Path, port: int = 0, policy: str = "") -> Server:
    """A server on 127.0.0.1; port 0 takes any free one, which is for the project's own use."""
    handler = type("FolderHandler", (Handler,), {"policy": policy})
    try:
        return Server(("127.0.0.1", port), partial(handler, directory=str(folder)))
    except PermissionError:
        raise Trouble(f"Port {port} needs rights that this user lacks; choose one from 1024 to {LAST_PORT}, for "
                      "example: python3 build.py --port 8000") from None
    except OSError:
        other = port + 1 if port < LAST_PORT else port - 1
        raise Trouble(f"Port {port} is taken; choose another, for example: python3 build.py --port {other}"
                      ) from None


def in_background(folder: Path, policy: str = "") -> tuple[Server, str]:
    """Serve from a thread; returns the server and its address."""
    made = server(folder, 0, policy)
    threading.Thread(target=made.serve_forever, daemon=True).start()
    return made, f"http://127.0.0.1:{made.server_address[1]}"


def forever(folder: Path, port: int) -> int:
    """Serve until Ctrl+C."""
    from .site import POLICY
    made = server(folder, port, POLICY)
    print(f"Open http://127.0.0.1:{made.server_address[1]}/ in a browser. Ctrl+C stops.", flush=True)
    try:
        made.serve_forever()
    except KeyboardInterrupt:
        print()
    finally:
        made.server_close()
    return 0
