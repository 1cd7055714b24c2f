"""The rules: ``default.toml``, with unit, standing and source, and a farm's own file over it."""
