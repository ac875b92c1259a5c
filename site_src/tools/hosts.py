"""Runs the hosting examples in the web servers they are written for, as plain processes in a folder of their own."""

from __future__ import annotations

import contextlib
import os
import shutil
import socket
import subprocess
import time
from collections.abc import Iterator
from pathlib import Path

from . import setup
from .setup import CACHE, ROOT, Trouble

EXAMPLES = ROOT / "site_src" / "hosting"
SUB_PATH = "/raftwright/"
# Places for programs of the system that are not on every user's path.
SYSTEM = ("/usr/sbin", "/usr/local/sbin", "/usr/local/bin", "/opt/homebrew/bin")
APACHE_MODULES = ("/usr/lib/apache2/modules", "/usr/lib64/httpd/modules", "/usr/lib/httpd/modules",
                  "/usr/libexec/apache2")

NGINX = """daemon off;
{user}
pid nginx.pid;
events {{ worker_connections 64; }}
http {{
    access_log off;
    client_body_temp_path body; proxy_temp_path proxy; fastcgi_temp_path fastcgi; uwsgi_temp_path uwsgi;
    scgi_temp_path scgi;
    include raftwright.conf;
}}
"""

APACHE = """ServerRoot "{folder}"
ServerName localhost
Listen 127.0.0.1:{port}
PidFile httpd.pid
ErrorLog httpd.log
DefaultRuntimeDir "{folder}"
{user}
{modules}
TypesConfig /dev/null
DocumentRoot "{folder}"
Alias /raftwright "{site}"
<Directory "{folder}">
    Require all granted
    AllowOverride FileInfo Indexes
</Directory>
"""


def find(*names: str) -> str | None:
    """A program of the system, also where a plain user's path does not look."""
    path = os.pathsep.join([os.environ.get("PATH", ""), *SYSTEM])
    return next(filter(None, (shutil.which(name, path=path) for name in names)), None)


def nginx() -> str | None:
    """nginx as installed; else Debian's package unpacked beside our other tools, which starts no service; else None."""
    found = find("nginx")
    kept = CACHE / "nginx" / "usr" / "sbin" / "nginx"
    if found or kept.is_file():
        return found or str(kept)
    if not (shutil.which("apt-get") and shutil.which("dpkg-deb")):
        return None
    folder = CACHE / "nginx"
    folder.mkdir(parents=True, exist_ok=True)
    if subprocess.run(["apt-get", "download", "-qq", "nginx"], cwd=folder, capture_output=True).returncode != 0:
        # A fresh machine has no list of packages yet; only root may fetch one.
        if not setup.is_root() or subprocess.run(["apt-get", "update", "-qq"], capture_output=True).returncode != 0:
            return None
        subprocess.run(["apt-get", "download", "-qq", "nginx"], cwd=folder, capture_output=True)
    for package in sorted(folder.glob("nginx_*.deb")):
        subprocess.run(["dpkg-deb", "-x", str(package), str(folder)], capture_output=True)
    works = kept.is_file() and subprocess.run([str(kept), "-v"], capture_output=True).returncode == 0
    return str(kept) if works else None


def apache() -> tuple[str, Path] | None:
    """Apache httpd and its folder of modules, or None."""
    program = find("apache2", "httpd")
    modules = next((Path(one) for one in APACHE_MODULES if Path(one).is_dir()), None)
    return (program, modules) if program and modules else None


def version(program: str) -> str:
    """What a server says of itself, in one line."""
    done = subprocess.run([program, "-v"], capture_output=True, text=True)
    return (done.stdout or done.stderr).strip().splitlines()[0]


def _once(text: str, old: str, new: str) -> str:
    if text.count(old) != 1:
        raise Trouble(f"The hosting example should say {old!r} exactly once.")
    return text.replace(old, new)


def _free_port() -> int:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        return taken.getsockname()[1]


@contextlib.contextmanager
def _running(command: list[str], port: int, log: Path) -> Iterator[str]:
    with log.open("w", encoding="utf-8") as out:
        process = subprocess.Popen(command, stdout=out, stderr=out, stdin=subprocess.DEVNULL)
    try:
        end = time.monotonic() + 30
        while True:
            with contextlib.suppress(OSError), socket.create_connection(("127.0.0.1", port), timeout=1):
                break
            if process.poll() is not None or time.monotonic() > end:
                raise Trouble(f"{command[0]} did not start:\n{log.read_text(encoding='utf-8')[-2000:]}")
            time.sleep(0.05)
        yield f"http://127.0.0.1:{port}{SUB_PATH.rstrip('/')}"
    finally:
        process.terminate()
        try:
            process.wait(20)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()


@contextlib.contextmanager
def in_nginx(program: str, built: Path, folder: Path) -> Iterator[str]:
    """Serve the built folder by the nginx example; yields the address of the sub-path."""
    port = _free_port()
    example = (EXAMPLES / "nginx.conf").read_text(encoding="utf-8")
    example = _once(example, "listen 8080;", f"listen 127.0.0.1:{port};")
    example = _once(example, "alias /srv/raftwright/;", f'alias "{built}/";')
    (folder / "raftwright.conf").write_text(example, encoding="utf-8")
    # As root nginx gives its workers another user, who may not be let into a temporary folder.
    user = "user root;" if setup.is_root() else ""
    (folder / "nginx.conf").write_text(NGINX.format(user=user), encoding="utf-8")
    command = [program, "-e", "stderr", "-p", str(folder), "-c", str(folder / "nginx.conf")]
    with _running(command, port, folder / "nginx.log") as address:
        yield address


@contextlib.contextmanager
def in_apache(found: tuple[str, Path], built: Path, folder: Path) -> Iterator[str]:
    """Serve a copy of the built folder with the Apache example as its .htaccess; yields the address."""
    program, modules = found
    site = folder / "copy"
    shutil.copytree(built, site)
    shutil.copyfile(EXAMPLES / "apache.htaccess", site / ".htaccess")
    user = ""
    if setup.is_root():
        # Apache will not serve as root; the user it takes instead must be let in.
        user = "User nobody\nGroup nogroup"
        for one in [folder, *site.rglob("*"), site]:
            one.chmod(0o755 if one.is_dir() else 0o644)
    names = ("mpm_event", "authz_core", "unixd", "mime", "dir", "alias", "headers", "filter", "deflate")
    # What was compiled into the program has no file.
    loads = "\n".join(f'LoadModule {name}_module "{modules / f"mod_{name}.so"}"' for name in names
                      if (modules / f"mod_{name}.so").is_file())
    port = _free_port()
    configuration = APACHE.format(folder=folder, port=port, user=user, modules=loads, site=site)
    (folder / "httpd.conf").write_text(configuration, encoding="utf-8")
    command = [program, "-D", "FOREGROUND", "-f", str(folder / "httpd.conf")]
    with _running(command, port, folder / "out.log") as address:
        yield address
