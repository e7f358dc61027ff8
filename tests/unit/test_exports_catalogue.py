import importlib
import inspect
import pkgutil
import subprocess
import sys

import foldproof.exports
from foldproof.exports.catalogue import FORMATS, NOT_FORMATS

RECORDS = {"folio": "Folio", "page": "Page", "table": "Table", "document": "Document", "scene": "Scene"}


def test_every_export_file_is_listed():
    files = {module.name for module in pkgutil.iter_modules(foldproof.exports.__path__)}
    listed = {export.write.split(":")[0].rsplit(".", 1)[1] for export in FORMATS}
    assert files - NOT_FORMATS == listed
    assert files >= NOT_FORMATS


def test_every_writer_takes_the_record_it_says():
    for export in FORMATS:
        module, function = export.write.split(":")
        writer = getattr(importlib.import_module(module), function)
        first = next(iter(inspect.signature(writer).parameters.values()))
        assert first.annotation == RECORDS[export.kind], export.name


def test_names_and_endings_are_single():
    assert len({export.name for export in FORMATS}) == len(FORMATS)
    assert len({export.suffix for export in FORMATS}) == len(FORMATS)
    assert all(export.suffix.startswith(".") for export in FORMATS)


def test_exports_start_without_their_heavy_libraries():
    modules = ", ".join(export.write.split(":")[0] for export in FORMATS)
    heavy = "{'pikepdf', 'pygltflib', 'ezdxf', 'fontTools', 'numpy', 'shapely'}"
    script = f"import sys, {modules}; print(sorted({heavy} & set(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
