"""For all tests: the long kill and flip runs are left to the check before a release.

They run when the mark is asked for (``-m struck``) or with HEAVINGLINE_STRUCK=1.
"""

import os

import pytest


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    if "struck" in str(config.option.markexpr) or os.environ.get("HEAVINGLINE_STRUCK") == "1":
        return
    struck = [item for item in items if item.get_closest_marker("struck")]
    if struck:
        config.hook.pytest_deselected(items=struck)
        items[:] = [item for item in items if not item.get_closest_marker("struck")]
