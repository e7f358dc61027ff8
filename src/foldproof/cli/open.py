"""``foldproof open``."""

from __future__ import annotations

from pathlib import Path

import click

from foldproof.cli.output import DONE, note


@click.command(name="open")
@click.option("--projects", type=click.Path(file_okay=False, path_type=Path), help="The folder of your projects.")
@click.option("--shelf", type=click.Path(file_okay=False, path_type=Path), help="The folder of your shapes.")
@click.option("--port", type=click.IntRange(1024, 65535), help="The port to answer on. Without it, a free one.")
@click.option("--no-browser", is_flag=True, help="Only tell the address; open no browser.")
def open_workbench(projects: Path | None, shelf: Path | None, port: int | None, no_browser: bool) -> int:
    """Opens the workbench in your browser, on this machine only.

    Press Ctrl and C to close it. Every change is saved as you make it.
    """
    from foldproof.service.keeping import projects_folder
    from foldproof.service.shelf import shelf_folder
    from foldproof.web.serve import free_port, serve
    from foldproof.web.settings import Settings

    settings = Settings(
        projects=projects_folder(projects), shelf=shelf_folder(shelf), port=free_port(port) if port else free_port()
    )
    serve(settings, show=not no_browser, ready=lambda address: note(f"The workbench is open at {address}"))
    return DONE
