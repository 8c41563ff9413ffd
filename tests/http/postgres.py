"""A PostgreSQL server of the tests' own, from Debian's package, in a temporary folder with a socket in it."""

from __future__ import annotations

import os
import pwd
import signal
import subprocess
import tempfile
import time
from pathlib import Path


def programs() -> Path | None:
    """The newest that is installed, or nothing."""
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"))
    return found[-1].parent if found else None


class Postgres:
    """A server, from its start to its stop."""

    def __init__(self) -> None:
        at = programs()
        assert at is not None
        self.own = tempfile.TemporaryDirectory(prefix="kw-pg-")
        self.folder = Path(self.own.name)
        self.user: dict[str, object] = {}
        if os.geteuid() == 0:  # it refuses to run as root
            user = pwd.getpwnam("postgres")
            os.chown(self.folder, user.pw_uid, user.pw_gid)
            self.user = {"user": user.pw_uid, "group": user.pw_gid, "extra_groups": []}
        quiet = {"stdout": subprocess.DEVNULL, "stderr": subprocess.DEVNULL, "cwd": "/"}
        data = str(self.folder / "data")
        subprocess.run([at / "initdb", "-D", data, "-U", "kerfwright", "-A", "trust", "-E", "UTF8", "--locale=C", "--no-sync",
                        "--no-instructions"], check=True, **quiet, **self.user)
        self.process = subprocess.Popen([at / "postgres", "-D", data, "-k", str(self.folder), "-c", "listen_addresses="],
                                        **quiet, **self.user)
        for _ in range(1000):
            ready = subprocess.run([at / "pg_isready", "-q", "-h", str(self.folder)], check=False)
            if ready.returncode == 0:
                return
            time.sleep(0.01)
        raise AssertionError("PostgreSQL does not start")

    @property
    def address(self) -> str:
        return f"postgresql:///postgres?user=kerfwright&host={self.folder}"

    def close(self) -> None:
        self.process.send_signal(signal.SIGQUIT)
        self.process.wait()
        self.own.cleanup()
