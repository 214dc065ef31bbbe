"""Keeps readings while every write and sync is noted: `python -m tests.db.child_power STORE NOTES SYNCHRONOUS`."""

import os
import pickle
import sys
from pathlib import Path

from db import connect, queries
from db.store import Store
from tests.db.invented import BENCH, reading
from tests.db.powercut import Op, record

READINGS = 120


def main(path: str, notes: str, synchronous: str) -> None:
    connect.PRAGMAS["wal_autocheckpoint"] = 40  # pages: many checkpoints, so that cuts fall into them
    if synchronous == "off":
        connect.PRAGMAS["synchronous"] = 0
    ops = record()
    store = Store.open(path, bench=BENCH)
    for number in range(READINGS):
        with store.writing() as s:
            kept = queries.sheets.keep_reading(s, reading(number))
        ops.append(Op("ack", kept.id.hex))
    Path(notes).write_bytes(pickle.dumps(ops))
    os._exit(0)  # the power goes before the store is closed


if __name__ == "__main__":
    main(*sys.argv[1:])
