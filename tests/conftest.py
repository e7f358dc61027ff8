"""One way of running the tests: the same examples on every machine, and no clock in the verdict."""

from hypothesis import settings

# derandomize: the same examples each time, so no test passes or fails by chance.
# deadline: none, because a busy machine is not a wrong result.
settings.register_profile("foldproof", derandomize=True, deadline=None, max_examples=60, database=None)
settings.load_profile("foldproof")
