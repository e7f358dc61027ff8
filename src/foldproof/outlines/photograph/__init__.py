"""The outline of a cut shape from a photograph of it on a sheet of known size.

Read from the top: `reading` (the whole way), `headers` and `decoding` (the file), `sheet_*` (the sheet and the lens),
`flat` and `shape` (where the shape is), `edge` and `corners` (its edge, finer than a pixel), `accuracy`, `trace` (the
picture for checking by eye). `records` and `refusals` are what comes out. Only `headers`, `records` and `refusals` can
be imported without loading the picture library.
"""
