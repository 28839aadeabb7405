"""Pairing: a code that is good once, for five minutes, and for a few tries.

In: a clock.  Out: codes, and whether one that was typed is the one that is shown.
"""

import hmac
import secrets
import threading
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime, timedelta

from polestitch.errors import DesignError

LETTERS = "23456789ABCDEFGHJKMNPQRSTUVWXYZ"  # none that is taken for another
LENGTH = 8
GOOD_FOR = timedelta(minutes=5)
TRIES = 5  # wrong ones, then the code is void
MOST_IN_A_MINUTE = 10


class TooManyError(DesignError):
    """Somebody tries again and again."""


@dataclass(eq=False)
class Pairing:
    """The way in over the home network: ``addresses`` are those the studio answers at."""

    clock: Callable[[], datetime]
    addresses: tuple[str, ...] = ()
    hosts: tuple[str, ...] = ()
    authority: bytes = b""  # certificate, DER
    fingerprint: str = ""
    _code: str = ""
    _until: datetime | None = None
    _wrong: int = 0
    _tries: deque[datetime] = field(default_factory=deque)
    _turn: threading.Lock = field(default_factory=threading.Lock)

    def code(self) -> tuple[str, datetime]:
        """The code to show now, and until when it is good."""
        with self._turn:
            if self._until is None or self._until - self.clock() < timedelta(seconds=5):
                self._code = "".join(secrets.choice(LETTERS) for _ in range(LENGTH))
                self._until, self._wrong = self.clock() + GOOD_FOR, 0
            return self._code, self._until

    def spend(self, typed: str) -> None:
        """Use the code up; ``DesignError`` where it is not the one."""
        with self._turn:
            self._refuse_haste()
            plain = "".join(letter for letter in typed.upper() if letter.isalnum())
            good = self._until is not None and self.clock() < self._until
            if not good or not hmac.compare_digest(plain.encode(), self._code.encode()):
                self._wrong += 1
                if self._wrong >= TRIES:
                    self._until = None
                raise DesignError("code", "this is not the code the studio shows now; look at its screen again")
            self._until = None

    def _refuse_haste(self) -> None:
        now = self.clock()
        while self._tries and now - self._tries[0] > timedelta(minutes=1):
            self._tries.popleft()
        if len(self._tries) >= MOST_IN_A_MINUTE:
            raise TooManyError("code", "too many codes were tried; wait a minute")
        self._tries.append(now)
