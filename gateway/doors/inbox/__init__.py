"""The door by which a carrier calls us: a web hook of starlette on uvicorn, on the service's own loop.

Loaded only where a hook is configured. `calls` holds what a call must be and what it says; `door` listens.
"""

from gateway.doors.inbox.door import WebHook

__all__ = ["WebHook"]
