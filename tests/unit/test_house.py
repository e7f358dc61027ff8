"""The house rules that can be measured: imports, sizes, records, and words that have no place in the tree."""

import ast
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "src" / "foldproof"

MAX_FILE_LINES = 600
MAX_FUNCTION_LINES = 70
ABOVE_PURE = {"cli", "web", "service"}  # the layers that may touch files, clocks and chance

MADE = {".git", ".venv", "build", "dist", "__pycache__", "node_modules"}  # not part of the tree we keep
MADE_ENDINGS = ("_cache", ".egg-info", ".benchmarks", ".hypothesis")
MACHINE_ROOTS = ("Users", "home", "mnt", "opt", "root", "srv", "tmp", "var", "work", "workspace")
MACHINE_PATH = re.compile(rf"(?<![\w.\-*)\]])/(?:{'|'.join(MACHINE_ROOTS)})\b")
INDEX_HOST = re.compile(r"pypi\.|pythonhosted\.|npmjs\.|--(?:extra-)?index-url\b|--find-links\b", re.I)


def python_files() -> Iterator[Path]:
    """Every source file of the package and of the benchmarks."""
    yield from sorted(PACKAGE.rglob("*.py"))
    yield from sorted((ROOT / "benchmarks").rglob("*.py"))


def kept_texts(folder: Path = ROOT) -> Iterator[tuple[Path, str]]:
    """Every text file of the tree, without what `make` makes. Files that are not UTF-8 are no text."""
    for path in sorted(folder.iterdir()):
        if path.name in MADE or path.name.endswith(MADE_ENDINGS) or path.is_symlink():
            continue
        if path.is_dir():
            yield from kept_texts(path)
            continue
        try:
            yield path, path.read_bytes().decode("utf-8")
        except UnicodeDecodeError:
            continue


def parsed(path: Path) -> ast.Module:
    """The syntax tree of a source file."""
    return ast.parse(path.read_text(encoding="utf-8"), filename=str(path))


def at(path: Path, line: int) -> str:
    """A place as an editor understands it."""
    return f"{path.relative_to(ROOT)}:{line}"


def layers() -> list[str]:
    """The layers contract of pyproject.toml, top first."""
    config = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    contracts = config["tool"]["importlinter"]["contracts"]
    (found,) = [contract["layers"] for contract in contracts if contract["type"] == "layers"]
    return list(found)


def test_import_contracts_hold():
    lint_imports = "from importlinter.cli import lint_imports_command; lint_imports_command()"
    run = subprocess.run(
        [sys.executable, "-c", lint_imports, "--no-cache", "--no-logo"],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
    )
    assert run.returncode == 0, run.stdout + run.stderr
    assert " 0 broken" in run.stdout


def test_every_module_has_one_layer():
    named = [name.strip(" ()") for layer in layers() for name in layer.split("|")]
    modules = {path.stem for path in PACKAGE.glob("*.py")} - {"__init__"}
    packages = {path.parent.name for path in PACKAGE.glob("*/*.py")}
    assert sorted((modules | packages) - set(named)) == []
    assert len(named) == len(set(named))


def test_files_are_short():
    lengths = {at(path, 1): len(path.read_text(encoding="utf-8").splitlines()) for path in python_files()}
    assert lengths
    assert {place: length for place, length in lengths.items() if length > MAX_FILE_LINES} == {}


def test_functions_are_short():
    too_long = {
        f"{at(path, node.lineno)} {node.name}": (node.end_lineno or node.lineno) - node.lineno + 1
        for path in python_files()
        for node in ast.walk(parsed(path))
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        and (node.end_lineno or node.lineno) - node.lineno + 1 > MAX_FUNCTION_LINES
    }
    assert too_long == {}


def test_records_are_inert():
    """Every dataclass is frozen and slotted, and told by name once it has more than one field."""
    loose = []
    for path in python_files():
        for node in ast.walk(parsed(path)):
            for decorator in node.decorator_list if isinstance(node, ast.ClassDef) else ():
                name = decorator.func if isinstance(decorator, ast.Call) else decorator
                if ast.unparse(name) not in {"dataclass", "dataclasses.dataclass"}:
                    continue
                fields = sum(isinstance(line, ast.AnnAssign) for line in node.body)
                wanted = {"frozen", "slots"} | ({"kw_only"} if fields > 1 else set())
                given = decorator.keywords if isinstance(decorator, ast.Call) else []
                if not wanted <= {k.arg for k in given if ast.unparse(k.value) == "True"}:
                    loose.append(at(path, node.lineno))
    assert loose == []


def test_nothing_below_the_service_opens_files_or_draws_numbers():
    """What import contracts cannot see: the builtin ``open`` and numpy's random numbers."""
    impure = [
        at(path, node.lineno)
        for path in sorted(PACKAGE.rglob("*.py"))
        if path.relative_to(PACKAGE).parts[0] not in ABOVE_PURE
        for node in ast.walk(parsed(path))
        if (isinstance(node, ast.Call) and ast.unparse(node.func) in {"open", "input", "print"})
        or (isinstance(node, ast.Attribute) and ast.unparse(node) in {"np.random", "numpy.random"})
    ]
    assert impure == []


def test_no_machine_paths_and_no_package_index():
    texts = list(kept_texts())
    assert ROOT / "pyproject.toml" in [path for path, _ in texts]
    found = [
        f"{at(path, number)} {match.group()}"
        for path, text in texts
        for number, line in enumerate(text.splitlines(), start=1)
        for match in (MACHINE_PATH.search(line), INDEX_HOST.search(line))
        if match and path != Path(__file__).resolve()
    ]
    assert found == []
