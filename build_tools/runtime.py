"""What calculates in the browser: engines, formulas, sheets and scripts, written into the built site.

Everything lands in `engine/` under names that carry the hash of the content, and each page with a calculator
names in its own head exactly the files it needs. So an old page never meets new scripts, and a page fetches
no formula that it does not show.
"""
from __future__ import annotations

import base64
import hashlib
import html
import json
import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from build_tools import __version__, javascript, laboratories, library, portable_code, proof
from build_tools.compressing import packed_by_zstd, packed_closely
from build_tools.sheets_for_door import sheet_for_door

if TYPE_CHECKING:
    from build_tools.handbook import Handbook

TOOLS = Path(__file__).parent
ENGINES = TOOLS / "engines" / "node_modules"
MICROPYTHON = ENGINES / "@micropython" / "micropython-webassembly-pyscript"
PYODIDE = ENGINES / "pyodide"
ZSTD = ENGINES / "fzstd"
SCRIPTS = TOOLS / "web" / "scripts"
STYLES = TOOLS / "web" / "styles"
NOTICES = TOOLS / "web" / "notices"
FOLDER = "engine"
CORE = "core"
MODELS = "models"
NOTICES_PAGE = "notices.txt"

# Packing the large engine takes seconds, so what was packed is kept from build to build, by content.
PACKED = Path(".build") / "packed"

# After this a page may name files: it stands within the first bytes, where a browser looks for it.
TOP = '<meta charset="utf-8">'

_CSS_COMMENT = re.compile(r"/\*.*?\*/\n*", re.DOTALL)
PROOF = "data-proof "
_CALCULATOR = re.compile(r'data-calculator="([a-z0-9_]+)"')
_LABORATORY = re.compile(r'data-laboratory="([a-z0-9_]+)"')


@dataclass(frozen=True)
class File:
    """One file beside the scripts: name with hash, size as sent in bytes, kind of the unpacked content."""

    name: str
    bytes: int
    kind: str

    def as_json(self) -> dict[str, Any]:
        return {"name": self.name, "bytes": self.bytes, "kind": self.kind}


def bundle(handbook: Handbook, site_dir: Path | str) -> None:
    """Write the engines, the scripts and every sheet into the site, and name them in the pages that calculate.

    Raises FileNotFoundError when the engines are not installed.
    """
    site = Path(site_dir)
    writer = _Writer(site / FOLDER, handbook.root / PACKED)
    for installed in (MICROPYTHON, PYODIDE, ZSTD):
        if not installed.is_dir():
            raise FileNotFoundError(
                f"The engine {installed.name} is not installed. Run: python3 -m build_tools build"
            )
    first = {
        "name": "MicroPython",
        "script": writer.text("micropython", ".js", _micropython_worker()),
        "engine": {"wasm": writer.packed("micropython", "wasm", (MICROPYTHON / "micropython.wasm").read_bytes())},
    }
    second = {
        "name": "Python",
        "script": writer.text("pyodide", ".js", _pyodide_worker()),
        "engine": {
            "wasm": writer.packed("pyodide", "wasm", (PYODIDE / "pyodide.asm.wasm").read_bytes(), pack=packed_by_zstd),
            "library": writer.packed(
                "python-library", "zip", library.sources(PYODIDE), lambda: library.compiled(PYODIDE), packed_by_zstd
            ),
        },
    }
    packs = {name: _pack(handbook, name) for name in sorted(handbook.sheets)}
    packs[CORE] = _core(handbook.root)
    packs[MODELS] = _models(handbook)
    sources = {name: writer.packed(name, "json", pack) for name, pack in packs.items()}
    compiled = {name: _compiled(writer, name, pack) for name, pack in packs.items()}
    page_script = writer.text("calculator", ".js", javascript.join(SCRIPTS / "page.js"))
    style = writer.text("calculator", ".css", _style("calculator", "calculator_parts"))

    def files_for(names: list[str]) -> dict[str, Any]:
        return {
            "version": __version__,
            "engines": [
                _with_packs(first, [compiled[name] for name in (CORE, *names)]),
                _with_packs(second, [sources[name] for name in (CORE, *names)]),
            ],
        }

    for page in sorted(site.rglob("*.html")):
        text = page.read_text(encoding="utf-8")
        to_folder = "../" * (len(page.relative_to(site).parts) - 1) + FOLDER + "/"
        if PROOF in text:
            checks = writer.packed("checks", "json", _checks(handbook))
            proving_script = writer.text("proof", ".js", javascript.join(SCRIPTS / "proof.js"))
            proof_files = {**files_for(proof.proved(handbook)), "checks": checks.as_json()}
            head = (
                f'<link rel="stylesheet" href="{to_folder}{style}">'
                f'{_data("proof-files", proof_files)}<script src="{to_folder}{proving_script}" defer></script>'
            )
            page.write_text(text.replace("</head>", head + "</head>", 1), encoding="utf-8", newline="\n")
        shown = sorted(set(_CALCULATOR.findall(text)))
        opened = sorted(set(_LABORATORY.findall(text)))
        if not shown and not opened:
            continue
        if (shown and opened) or len(opened) > 1:
            raise ValueError(
                f"{page.relative_to(site)} holds {' and '.join([*opened, *shown])}. Each would start engines of its "
                "own: put a laboratory on a page by itself."
            )
        script_here, style_here = page_script, style
        if opened:
            script_here, style_here = _laboratory_files(writer, opened[0])
        files = files_for(shown or [MODELS])
        text = text.replace(TOP, TOP + _starting(files, to_folder, script_here), 1)
        text = text.replace("</head>", f'<link rel="stylesheet" href="{to_folder}{style_here}"></head>', 1)
        page.write_text(text, encoding="utf-8", newline="\n")


def notices() -> str:
    """Return the licence notices of everything from third parties that travels with the site."""
    return "\n".join(path.read_text(encoding="utf-8").strip() + "\n" for path in sorted(NOTICES.glob("*.txt")))


def _style(*names: str) -> str:
    return "".join(_CSS_COMMENT.sub("", (STYLES / f"{name}.css").read_text(encoding="utf-8")) for name in names)


def _laboratory_files(writer: _Writer, name: str) -> tuple[str, str]:
    """Write the script and the style of a laboratory; give their names."""
    stem = "laboratory-" + name.replace("_", "-")
    script = writer.text(stem, ".js", javascript.join(SCRIPTS / f"{name}.js"))
    return script, writer.text(stem, ".css", _style("laboratory", name))


def _with_packs(engine: dict[str, Any], packs: list[File]) -> dict[str, Any]:
    return {
        **engine,
        "engine": {part: file.as_json() for part, file in engine["engine"].items()},
        "packs": [file.as_json() for file in packs],
    }


def _starting(files: dict[str, Any], to_folder: str, script: str) -> str:
    """What starts the first engine, for the top of the page: all of its files come in at once, styles after them.

    A worker asks for its files only once its own script runs; the browser has them under way by then.
    """
    first = files["engines"][0]
    data_files = [*first["engine"].values(), *first["packs"]]
    preloads = "".join(
        f'<link rel="preload" href="{html.escape(to_folder + file["name"])}" as="fetch" crossorigin>'
        for file in data_files
    )
    return _data("engine-files", files) + (
        f'<script src="{html.escape(to_folder + script)}" async fetchpriority="high"></script>'
        f'<link rel="preload" href="{html.escape(to_folder + first["script"])}" as="script">{preloads}'
    )


def _data(name: str, content: dict[str, Any]) -> str:
    return f'<script type="application/json" id="{name}">{in_data_block(content)}</script>'


def in_data_block(content: dict[str, Any]) -> str:
    """Return JSON for a data block of a page, which "<" alone could end early."""
    return json.dumps(content, separators=(",", ":"), ensure_ascii=False).replace("<", "\\u003c")


def _checks(handbook: Handbook) -> bytes:
    return json.dumps({"checks": proof.recorded(handbook)}, ensure_ascii=False, separators=(",", ":")).encode()


def _core(root: Path) -> bytes:
    """Pack the modules that every calculator needs."""
    return _pack_json(sorted((root / "calculators").glob("*.py")), root, [])


def _models(handbook: Handbook) -> bytes:
    """Pack the models and their data."""
    sheets = [laboratories.model_for_door(handbook, name) for name in laboratories.models()]
    return _pack_json(sorted((handbook.root / laboratories.MODELS).glob("*.py")), handbook.root, sheets)


def _pack(handbook: Handbook, calculator: str) -> bytes:
    """Pack one calculator: its Python files and its sheet."""
    folder = handbook.root / "calculators" / calculator
    return _pack_json(sorted(folder.glob("*.py")), handbook.root, [sheet_for_door(handbook, calculator)])


def _compiled(writer: _Writer, name: str, pack: bytes) -> File:
    """Pack the same once more for the first engine, its Python compiled: [path, base64] in place of [path, text]."""

    def compiled() -> bytes:
        content = json.loads(pack)
        content["files"] = [
            [portable_code.compiled_name(path), base64.b64encode(portable_code.compiled(path, text)).decode()]
            for path, text in content["files"]
        ]
        return json.dumps(content, ensure_ascii=False, separators=(",", ":")).encode()

    return writer.packed(f"{name}-compiled", "json", pack + portable_code.VERSION.encode(), compiled)


def _pack_json(paths: list[Path], root: Path, sheets: list[dict[str, Any]]) -> bytes:
    files = [[path.relative_to(root).as_posix(), path.read_text(encoding="utf-8")] for path in paths]
    return json.dumps({"files": files, "sheets": sheets}, ensure_ascii=False, separators=(",", ":")).encode()


def _micropython_worker() -> str:
    engine = javascript.micropython((MICROPYTHON / "micropython.mjs").read_text(encoding="utf-8"))
    return javascript.join(SCRIPTS / "worker_micropython.js", {"micropython": engine})


def _pyodide_worker() -> str:
    engine = javascript.pyodide(
        (PYODIDE / "pyodide.mjs").read_text(encoding="utf-8"),
        (PYODIDE / "pyodide.asm.mjs").read_text(encoding="utf-8"),
        (PYODIDE / "pyodide-lock.json").read_text(encoding="utf-8"),
    )
    zstd = javascript.zstd((ZSTD / "esm" / "index.mjs").read_text(encoding="utf-8"))
    return javascript.join(SCRIPTS / "worker_pyodide.js", {"pyodide": engine, "zstd": zstd})


class _Writer:
    """Writes files under hashed names; packs large ones once and keeps the result."""

    def __init__(self, folder: Path, kept: Path) -> None:
        self.folder = folder
        self.kept = kept
        folder.mkdir(parents=True, exist_ok=True)
        kept.mkdir(parents=True, exist_ok=True)

    def text(self, stem: str, suffix: str, content: str) -> str:
        data = content.encode()
        name = f"{stem}.{_hash(data)}{suffix}"
        (self.folder / name).write_bytes(data)
        return name

    def packed(
        self, stem: str, kind: str, source: bytes, make: Callable[[], bytes] | None = None,
        pack: Callable[[bytes], bytes] = packed_closely,
    ) -> File:
        """Write packed content as .bin, a suffix that servers neither label nor unpack on the way.

        The content is `source` itself, or what `make` makes of it.
        """
        kept = self.kept / f"{stem}.{_hash(source)}.{pack.__name__}"
        if not kept.is_file():
            for stale in self.kept.glob(f"{stem}.*"):
                stale.unlink()
            # By another name first: what a broken-off build leaves must not pass for whole.
            half = kept.with_suffix(".half")
            half.write_bytes(pack(make() if make else source))
            half.replace(kept)
        data = kept.read_bytes()
        name = f"{stem}.{_hash(data)}.bin"
        (self.folder / name).write_bytes(data)
        return File(name, len(data), kind)


def _hash(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()[:16]
