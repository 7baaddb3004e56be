"""The arrows between packages and the doors of heavy libraries, read from the imports."""

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PACKAGES = ("palettes", "gallery", "explorer")
ALLOWED = {
    "palettes": {"palettes"},
    "gallery": {"palettes", "gallery"},
    "explorer": {"palettes", "gallery", "explorer"},
}
# What gallery may know of palettes: colour conversion, finishes and the words for shapes.
GALLERY_MAY_KNOW = {"palettes.spaces", "palettes.finishes", "palettes.forms"}
# The only files that may import a heavy library.
DOORS = {
    "colour": ["palettes/lights.py"],
    "skimage": ["palettes/"],
    "reportlab": ["gallery/pdf.py"],
    "segno": ["gallery/page_qr.py"],
    "platformdirs": ["explorer/shelf.py", "explorer/app/"],
    "pydantic": ["explorer/piece.py", "explorer/app/choosing.py"],
    "PIL": ["gallery/", "palettes/extract.py"],
    "streamlit": ["explorer/app/"],
}


def sources() -> list[Path]:
    return [path for package in PACKAGES for path in sorted((ROOT / package).rglob("*.py"))]


def imported(path: Path) -> Iterator[tuple[str, bool]]:
    """Each imported module and whether it is imported at the top of the file."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    top = set(map(id, tree.body))
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield alias.name, id(node) in top
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: relative import"
            yield node.module or "", id(node) in top


def test_arrows_point_one_way() -> None:
    for path in sources():
        package = path.relative_to(ROOT).parts[0]
        for module, _ in imported(path):
            root = module.split(".")[0]
            if root in PACKAGES:
                assert root in ALLOWED[package], f"{path}: imports {module}"
            if package == "gallery" and root == "palettes":
                assert module in GALLERY_MAY_KNOW, f"{path}: imports {module}"


def test_only_the_app_is_imported_by_the_app() -> None:
    for path in sources():
        relative = path.relative_to(ROOT).as_posix()
        if relative.startswith("explorer/app/"):
            continue
        for module, top in imported(path):
            if module.startswith("explorer.app"):
                assert relative == "explorer/command_line.py", f"{path}: imports {module}"
                assert not top, f"{path}: imports {module} before it is asked for"


@pytest.mark.parametrize("library", DOORS)
def test_heavy_libraries_have_one_door(library: str) -> None:
    for path in sources():
        relative = path.relative_to(ROOT).as_posix()
        for module, top in imported(path):
            if module.split(".")[0] == library:
                assert any(relative.startswith(door) for door in DOORS[library]), relative
                assert library != "colour" or not top, f"{relative}: colour at the top"


def test_package_inits_hold_a_docstring_and_nothing_else() -> None:
    for path in sources():
        if path.name == "__init__.py":
            body = ast.parse(path.read_text(encoding="utf-8")).body
            assert len(body) == 1, path
            assert ast.get_docstring(ast.Module(body=body, type_ignores=[])), path


def test_the_core_loads_no_shell_and_no_slow_library() -> None:
    code = (
        "import sys, explorer.propose\n"
        "heavy = {'streamlit', 'colour', 'PIL', 'skimage', 'pandas'} & set(sys.modules)\n"
        "print(sorted(heavy))"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, cwd=ROOT, check=False
    )
    assert (done.stdout.strip(), done.stderr) == ("[]", "")


def test_the_top_level_holds_what_it_should() -> None:
    done = subprocess.run(
        ["git", "ls-files"],  # noqa: S607 - whichever git the contributor has
        capture_output=True,
        text=True,
        cwd=ROOT,
        check=False,
    )
    if done.returncode != 0:
        pytest.skip("not a git checkout")
    tops = {line.split("/")[0] for line in done.stdout.splitlines()}
    allowed = {"README.md", "DEVELOPERS.md", "pyproject.toml", *PACKAGES, "tests"}
    assert {top for top in tops if not top.startswith(".")} <= allowed
