"""Benchmarks: `python -m benchmarks` times what must be fast and checks the answers while it does."""
