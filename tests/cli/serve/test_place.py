"""The address that is taken, and what it may be called."""

from __future__ import annotations

import errno
import socket

import pytest

from tracker.cli.serve import place
from tracker.cli.serve.place import Place, take
from tracker.domain.problems import DataError, UsageError


def taken(host: str) -> Place:
    found = take(host, 0)
    found.taken.close()
    return found


def has_the_newer_protocol() -> bool:
    try:
        with socket.socket(socket.AF_INET6) as tried:
            tried.bind(("::1", 0))
    except OSError:
        return False
    return True


def test_by_default_it_is_this_machine_only() -> None:
    with (found := take("127.0.0.1", 0)).taken:
        assert not found.is_open
        assert found.address("k") == f"http://127.0.0.1:{found.port}/?key=k"
        assert found.names.hold("localhost")
        assert not found.names.hold("192.0.2.7")


def test_a_name_is_shown_as_it_was_said() -> None:
    found = taken("LocalHost")
    assert (found.shown_host, found.is_open) == ("localhost", False)


def test_every_address_is_open_to_others() -> None:
    found = taken("0.0.0.0")  # noqa: S104 - what is tested
    assert found.is_open
    assert found.shown_host != "0.0.0.0"  # noqa: S104 - what is tested
    assert found.names.hold(found.shown_host)
    assert found.names.hold("192.0.2.7:8023")
    assert not found.names.hold("elsewhere.example")


def test_an_address_of_the_newer_kind_stands_in_brackets() -> None:
    # RFC 3986, 3.2.2. Where a machine has none of these addresses, it is refused in one line.
    if has_the_newer_protocol():
        found = taken("::1")
        assert (found.shown_host, found.is_open) == ("[::1]", False)
        assert taken("::").is_open
    else:
        with pytest.raises(UsageError, match="no address of this machine"):
            take("::1", 0)


def test_without_a_way_out_the_machine_goes_by_its_name(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(place, "_BEYOND", {socket.AF_INET: "no address"})
    assert taken("0.0.0.0").shown_host == socket.gethostname().lower()  # noqa: S104 - what is tested


@pytest.mark.parametrize("host", ["", "203.0.113.9", "a..b", "b" * 70])
def test_a_host_of_others_is_one_line(host: str) -> None:
    # 203.0.113.0/24 belongs to nobody (RFC 5737).
    with pytest.raises(UsageError, match="no address of this machine") as refused:
        take(host, 0)
    assert "\n" not in str(refused.value)


def test_a_port_in_use_is_one_line() -> None:
    with (found := take("127.0.0.1", 0)).taken, pytest.raises(DataError, match=f"{found.port} is in use"):
        take("127.0.0.1", found.port)


def test_a_port_of_the_system_is_one_line(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_said: object) -> None:
        raise PermissionError(errno.EACCES, "")

    monkeypatch.setattr(place, "_listening", refuse)
    with pytest.raises(DataError, match="80 may not be taken by you"):
        take("127.0.0.1", 80)
