"""ngspice's shared library by its C interface: a circuit handed over in memory, one command, one vector read back."""

from __future__ import annotations

import ctypes
from collections.abc import Sequence

__all__ = ["Library"]

Said = ctypes.CFUNCTYPE(ctypes.c_int, ctypes.c_char_p, ctypes.c_int, ctypes.c_void_p)
Left = ctypes.CFUNCTYPE(ctypes.c_int, ctypes.c_int, ctypes.c_bool, ctypes.c_bool, ctypes.c_int, ctypes.c_void_p)


class _Vector(ctypes.Structure):
    """`vector_info` of ngspice's header sharedspice.h."""

    _fields_ = (
        ("name", ctypes.c_char_p),
        ("kind", ctypes.c_int),
        ("flags", ctypes.c_short),
        ("real", ctypes.POINTER(ctypes.c_double)),
        ("complex", ctypes.POINTER(ctypes.c_double)),
        ("length", ctypes.c_int),
    )


class Library:
    """The library, loaded and told to be quiet; raises OSError where it is not installed. One a process."""

    def __init__(self) -> None:
        self._library = ctypes.CDLL("libngspice.so.0")
        self._library.ngGet_Vec_Info.restype = ctypes.POINTER(_Vector)
        self._calls = Said(lambda *said: 0), Said(lambda *said: 0), Left(lambda *left: 0)  # held, or they are collected
        self._library.ngSpice_Init(*self._calls, None, None, None, None)

    def load(self, lines: Sequence[str]) -> None:
        """Hand over a circuit, the one before forgotten."""
        self.command("remcirc")
        texts = (ctypes.c_char_p * (len(lines) + 1))(*(line.encode() for line in lines), None)
        if self._library.ngSpice_Circ(texts):
            raise RuntimeError(f"ngspice refuses the circuit {lines}")

    def command(self, text: str) -> None:
        """Carry out one command, `ac lin 1 60 60` for instance."""
        self._library.ngSpice_Command(text.encode())

    def volts(self, node: int) -> complex:
        """Potential of a node in the last result."""
        if not node:
            return 0j
        found = self._library.ngGet_Vec_Info(f"v({node})".encode())
        if not found or not found.contents.complex:
            raise RuntimeError(f"ngspice has no complex v({node})")
        return complex(found.contents.complex[0], found.contents.complex[1])
