"""Debian's nginx and Apache with the settings that come with the site, set up as the educators' page says.

Each stands twice, as the whole of a host and under a path, and each of these over plain http and over https with a
throw-away certificate: four addresses of one running server.
"""

from __future__ import annotations

import base64
import hashlib
import re
import shutil
import socket
import ssl
import string
import subprocess
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from build_tools.environment import ROOT, server_program
from build_tools.placing import SERVER_FILES
from tests.site.conftest import SUB_PATH

HERE = Path(__file__).parent
SERVERS = ("nginx", "apache")
PROGRAMS = {"nginx": "nginx", "apache": "apache2"}
HOST = "handbook.test"
# Where the server is: the name is for browsers alone, which take an address of this machine for a safe one.
MACHINE = "127.0.0.1"
PLACES = {"root": "/", "sub": SUB_PATH}
PAGE = ROOT / "content" / "about" / "servers.md"

# What Debian switches on by itself, what the page asks for, and what makes a server of it.
DEBIANS_MODULES = Path("/etc/apache2/mods-available")
BASIS = ("mpm_event", "authz_core", "alias", "dir", "filter", "deflate", "setenvif", "mime", "ssl")
ASKED_FOR = ("headers", "rewrite")
# Those whose settings by Debian bear on what is sent.
WITH_SETTINGS = ("dir", "mime", "deflate")


class _Template(string.Template):
    delimiter = "@"


@dataclass(frozen=True)
class Standing:
    """A running server. What is changed in `site` counts at once.

    addresses: (place, scheme) -> port.
    certificate: of its https addresses.
    """

    site: Path
    ports: dict[tuple[str, str], int]
    certificate: Path
    process: subprocess.Popen[bytes]

    def address(self, place: str, scheme: str) -> str:
        """Where the front page is for a browser, with a slash at the end."""
        return f"{scheme}://{HOST}:{self.ports[place, scheme]}{PLACES[place]}"

    def stop(self) -> None:
        self.process.terminate()
        # Apache waits for each of its children, which takes a while on a busy machine.
        self.process.wait(timeout=60)


@contextmanager
def standing(server: str, built_site: Path, modules: Sequence[str] = ASKED_FOR) -> Iterator[Standing]:
    """Run a server for a copy of the site while the block runs; modules: of Apache, beside those it has anyway."""
    # Not where pytest keeps its folders: a server's own user may not look in there.
    folder = Path(tempfile.mkdtemp(prefix="handbook-server-"))
    try:
        folder.chmod(0o755)
        site = shutil.copytree(built_site, folder / "site")
        (folder / "nothing").mkdir()
        settings = site / SERVER_FILES / f"{server}.conf"
        shutil.copy(settings, folder / "pulse-ruler.conf")
        if server == "apache":
            shutil.copy(settings, site / ".htaccess")
        make_certificate(folder)
        ways = [(place, scheme) for place in PLACES for scheme in ("http", "https")]
        ports = dict(zip(ways, free_ports(4), strict=True))
        (folder / "server.conf").write_text(configuration(server, folder, ports, modules), encoding="utf-8")
        options = ["-p", str(folder), "-c"] if server == "nginx" else ["-D", "FOREGROUND", "-f"]
        command = [program(server), *options, str(folder / "server.conf")]
        with (folder / "printed.txt").open("wb") as printed:
            process = subprocess.Popen(command, stdout=printed, stderr=printed)
        made = Standing(site, ports, folder / "certificate.pem", process)
        try:
            wait_for(made, folder)
            yield made
        finally:
            made.stop()
    finally:
        shutil.rmtree(folder)


def program(server: str) -> str:
    found = server_program(PROGRAMS[server])
    assert found, f"The tests of servers need {server}. On Debian: apt-get install {PROGRAMS[server]}"
    return found


def configuration(server: str, folder: Path, ports: dict[tuple[str, str], int], modules: Sequence[str]) -> str:
    """The server's whole configuration: our frame, and in it the very lines that the page tells educators."""
    at = {f"{place}_{scheme}": f"{MACHINE}:{port}" for (place, scheme), port in ports.items()}
    whole, path = told_lines(server, folder)
    if server == "nginx":
        whole = whole.replace("listen 443 ssl;", f"listen {at['root_https']} ssl;\n    listen {at['root_http']};")
    else:
        plain = re.sub(r"^ *SSL.*\n", "", whole, flags=re.MULTILINE)
        whole = whole.replace("*:443", at["root_https"]) + plain.replace("*:443", at["root_http"])
    loads = [f"Include {DEBIANS_MODULES}/{name}.load" for name in (*BASIS, *modules)]
    loads += [f"Include {DEBIANS_MODULES}/{name}.conf" for name in WITH_SETTINGS]
    frame = (HERE / f"{server}.conf").read_text(encoding="utf-8")
    return _Template(frame).substitute(at, folder=folder, whole=whole, path=path, modules="\n".join(loads))


def told_lines(server: str, folder: Path) -> tuple[str, str]:
    """The page's lines for the whole of a host and for a path, with the places of the test in them."""
    section = re.search(rf"^### {server}\n(.*?)^##", PAGE.read_text(encoding="utf-8"), re.M | re.S | re.I)
    assert section
    whole, path = re.findall(r"^```\n(.*?)^```\n", section[1], re.M | re.S)
    for there, here in (
        ("/etc/ssl/handbook.pem", folder / "certificate.pem"),
        ("/etc/ssl/handbook.key", folder / "certificate.key"),
        ("/srv/handbook", folder / "site"),
        ("/etc/apache2/pulse-ruler.conf", folder / "pulse-ruler.conf"),
        ("snippets/pulse-ruler.conf", folder / "pulse-ruler.conf"),
        ("handbook.example", HOST),
    ):
        whole, path = whole.replace(there, str(here)), path.replace(there, str(here))
    return whole, path


def make_certificate(folder: Path) -> None:
    names = f"subjectAltName=DNS:{HOST},IP:{MACHINE}"
    run_openssl(
        *("req", "-x509", "-newkey", "ec", "-pkeyopt", "ec_paramgen_curve:P-256", "-nodes", "-days", "2"),
        *("-subj", f"/CN={HOST}", "-addext", names),
        *("-keyout", str(folder / "certificate.key"), "-out", str(folder / "certificate.pem")),
    )


def key_of(certificate: Path) -> str:
    """The hash of a certificate's public key, by which Chromium can be told to trust it and no other."""
    with tempfile.TemporaryDirectory() as folder:
        public = Path(folder) / "public.pem"
        public.write_bytes(run_openssl("x509", "-in", str(certificate), "-pubkey", "-noout"))
        key = run_openssl("pkey", "-pubin", "-in", str(public), "-outform", "der")
    return base64.b64encode(hashlib.sha256(key).digest()).decode()


def run_openssl(*arguments: str) -> bytes:
    return subprocess.run(["openssl", *arguments], check=True, capture_output=True).stdout


def trusting(certificate: Path) -> ssl.SSLContext:
    return ssl.create_default_context(cafile=str(certificate))


def free_ports(count: int) -> list[int]:
    """Ports that nobody uses now. They are held until all are found, so that none comes twice."""
    held = [socket.socket() for _ in range(count)]
    for one in held:
        one.bind((MACHINE, 0))
    ports = [one.getsockname()[1] for one in held]
    for one in held:
        one.close()
    return ports


def wait_for(made: Standing, folder: Path) -> None:
    ended = time.monotonic() + 10
    for port in made.ports.values():
        while True:
            try:
                socket.create_connection((MACHINE, port), timeout=1).close()
                break
            except OSError:
                logs = [*sorted(folder.glob("*.txt")), *sorted(folder.glob("*.log"))]
                said = "".join(path.read_text(encoding="utf-8") for path in logs)
                assert made.process.poll() is None and time.monotonic() < ended, f"the server does not start:\n{said}"
                time.sleep(0.05)
