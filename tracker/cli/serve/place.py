"""Where it is served: the address that is taken, its names, and what has to be said about it."""

from __future__ import annotations

import errno
import os
import socket
from ipaddress import IPv6Address, ip_address
from typing import Any, NamedTuple

from tracker.cli.serve.door import Names
from tracker.domain.problems import DataError, Problem, UsageError

_OTHER = "Leave --host out to serve this machine only."
_BEYOND = {socket.AF_INET: "192.0.2.1", socket.AF_INET6: "2001:db8::1"}
"""Addresses that belong to nobody (RFC 5737, RFC 3849)."""


class Place(NamedTuple):
    """A port that is ours."""

    taken: socket.socket
    shown_host: str
    """What to call this machine in the address; IPv6 in square brackets."""
    names: Names
    is_open: bool
    """Whether other machines may reach it."""

    @property
    def port(self) -> int:
        """The port that was taken."""
        return int(self.taken.getsockname()[1])

    def address(self, key: str) -> str:
        """What to open in the browser."""
        return f"http://{self.shown_host}:{self.port}/?key={key}"


def take(host: str, port: int) -> Place:
    """Take a port of an address or name of this machine; port 0 is any that is free.

    Raises UsageError for a host that is none of this machine's, DataError for a port that is not to be had.
    """
    taken = _bound(host, port)
    number = ip_address(str(taken.getsockname()[0]).partition("%")[0])
    name = host.lower() if _is_name(host) else _written(str(number))
    if number.is_unspecified:
        own = socket.gethostname().lower()
        names = Names(frozenset({"localhost", own, f"{own}.local"}), by_any_number=True)
        return Place(taken, _own_address(taken.family), names, is_open=True)
    said = {name, _written(str(number))}
    if number.is_loopback:
        said |= {"localhost", "127.0.0.1", "[::1]"}
    return Place(taken, name, Names(frozenset(said)), is_open=not number.is_loopback)


def _bound(host: str, port: int) -> socket.socket:
    try:
        # An empty host would mean every address of the machine: nobody is opened to all by an empty word.
        family, _, _, _, address = socket.getaddrinfo(host or ".", port, type=socket.SOCK_STREAM)[0]
        return _listening(family, address)
    except (socket.gaierror, UnicodeError):
        raise UsageError(Problem("--host", f'"{host}" is no address of this machine', _OTHER)) from None
    except OSError as refusal:
        raise _refused(refusal.errno, host, port) from None


def _listening(family: socket.AddressFamily, address: Any) -> socket.socket:
    taken = socket.socket(family, socket.SOCK_STREAM)
    try:
        if os.name == "posix":
            # So that it can be started again at once; elsewhere it would let two programs share the port.
            taken.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        taken.bind(address)
        taken.listen()
    except OSError:
        taken.close()
        raise
    return taken


def _refused(why: int | None, host: str, port: int) -> DataError | UsageError:
    if why == errno.EADDRINUSE:
        return DataError(
            Problem("--port", f"{port} is in use", "Say another one, or --port 0 for any that is free.")
        )
    if why == errno.EACCES:
        return DataError(
            Problem("--port", f"{port} may not be taken by you", "Say one above 1023, or --port 0.")
        )
    return UsageError(Problem("--host", f'"{host}" is no address of this machine', _OTHER))


def _is_name(host: str) -> bool:
    try:
        ip_address(host.partition("%")[0])
    except ValueError:
        return True
    return False


def _written(number: str) -> str:
    return f"[{number}]" if isinstance(ip_address(number), IPv6Address) else number


def _own_address(family: int) -> str:
    """The address under which the own network knows this machine, without sending anything."""
    try:
        with socket.socket(family, socket.SOCK_DGRAM) as unsent:
            # A datagram socket only looks up the way; nothing is sent before something is written to it.
            unsent.connect((_BEYOND[socket.AddressFamily(family)], 9))
            return _written(str(unsent.getsockname()[0]))
    except OSError:
        return socket.gethostname().lower()
