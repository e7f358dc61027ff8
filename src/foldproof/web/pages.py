"""Every part of the workbench: one line each."""

from __future__ import annotations

from foldproof.web import desk_routes, home_routes, make_routes, shapes_routes, share_routes
from foldproof.web.app import Pages

PAGES: tuple[Pages, ...] = (
    home_routes.routes,
    desk_routes.routes,
    make_routes.routes,
    shapes_routes.routes,
    share_routes.routes,
)
