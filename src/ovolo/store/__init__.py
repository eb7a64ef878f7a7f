"""What is kept: jobs and shops as they were typed, every version of them, and runs at the lathe with their ticks, in
SQLite or PostgreSQL.

Documents are kept as people left them, faults and all: what they mean is for other rooms to say. Rows never leave
this room; what does is a frozen dataclass.
"""

from ovolo.store.devices import Device
from ovolo.store.records import Changed, Damaged, Kept, KeptRun, NotKept, RunSummary, Summary, Version
from ovolo.store.runs import Runs
from ovolo.store.store import Store

__all__ = [
    "Changed",
    "Damaged",
    "Device",
    "Kept",
    "KeptRun",
    "NotKept",
    "RunSummary",
    "Runs",
    "Store",
    "Summary",
    "Version",
]
