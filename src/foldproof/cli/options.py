"""Arguments and options that commands share."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import click

Decorator = Callable[[Callable[..., Any]], Callable[..., Any]]

# Paths are judged by the service, so that all wrong input is told in one voice.
project_file: Decorator = click.argument("file", metavar="FILE")
as_json: Decorator = click.option("--json", "as_json", is_flag=True, help="Print one JSON report and nothing else.")
time_limit: Decorator = click.option(
    "--seconds",
    type=click.FloatRange(min=0.0),
    metavar="N",
    help="Stop after N seconds with the best result there is.",
)
shelf_option: Decorator = click.option(
    "--shelf", metavar="FOLDER", help="The folder of your shapes. Without it, FOLDPROOF_SHELF or your data folder."
)
