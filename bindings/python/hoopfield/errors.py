# SPDX-License-Identifier: BSD-3-Clause
"""What can go wrong, by who can mend it. Each error is also the built-in one that plain ``except`` catches."""

from __future__ import annotations

__all__ = ["Error", "InputError", "Interrupted", "IoError", "OutOfRange", "SolverError", "UnknownKey"]


class Error(Exception):
    """Base of every error hoopfield raises on purpose. The message is complete by itself."""


class InputError(Error, ValueError):
    """Something the user wrote cannot be used as it stands.

    Attributes: ``file`` (empty when the value does not come from a file), ``line`` and ``column`` (1-based, 0 when
    unknown), ``key``.
    """

    def __init__(self, message: str, file: str = "", line: int = 0, column: int = 0, key: str = "") -> None:
        super().__init__(message)
        self.file, self.line, self.column, self.key = file, line, column, key

    def __reduce__(self) -> tuple:
        return type(self), (str(self), self.file, self.line, self.column, self.key)


class OutOfRange(InputError):
    """A physical bound is left: no film, load or machine can have this value."""


class UnknownKey(InputError, KeyError):
    """No input has this key; the message names the nearest one. A KeyError, as a mapping owes its readers."""

    def __str__(self) -> str:
        return str(self.args[0])


class SolverError(Error, RuntimeError):
    """The inputs are well formed but the physics has no solution, or the solver found none.

    Attributes: ``time`` (s), ``turn`` (1-based, 0 when not in a turn), ``height`` (m), ``hint``.
    """

    def __init__(self, message: str, time: float = 0.0, turn: int = 0, height: float = 0.0, hint: str = "") -> None:
        super().__init__(message)
        self.time, self.turn, self.height, self.hint = time, turn, height, hint

    def __reduce__(self) -> tuple:
        return type(self), (str(self), self.time, self.turn, self.height, self.hint)


class IoError(Error, OSError):
    """A file could not be read or written. Attribute: ``file`` (empty when unknown)."""

    def __init__(self, message: str, file: str = "") -> None:
        super().__init__(message)
        self.file = file

    def __reduce__(self) -> tuple:
        return type(self), (str(self), self.file)


class Interrupted(Error, RuntimeError):
    """The progress function returned False."""
