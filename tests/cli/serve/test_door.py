"""Who is let in, decided without a network.

What a refusal has to rest on is from OWASP's cheat sheets on sessions and foreign requests, from memory.
"""

from __future__ import annotations

import pytest

from tracker.cli.serve.door import AHEAD, NO_KEY, OTHER_NAME, OTHER_PAGE, SPENT, Asked, Door, Names

KEY = "a-key-of-a-test"
HOST = "127.0.0.1:8023"
PAGE = Asked(HOST, is_page=True)
NAMES = Names(frozenset({"127.0.0.1", "localhost", "[::1]"}))


@pytest.fixture
def door() -> Door:
    return Door(NAMES, KEY)


@pytest.fixture
def held(door: Door) -> str:
    """The pass of the first browser."""
    return door.judge(PAGE._replace(key=KEY)).new_pass


@pytest.mark.parametrize("key", ["", "another", KEY.upper(), KEY + "x", KEY[:-1], "é", "\udcff"])
def test_without_the_right_key_nobody_gets_in(door: Door, key: str) -> None:
    assert door.judge(PAGE._replace(key=key)) == (NO_KEY, "")
    assert door.judge(PAGE._replace(key=key, held=key)) == (NO_KEY, "")


def test_the_key_opens_once(door: Door, held: str) -> None:
    assert held
    assert held != KEY
    assert door.judge(PAGE._replace(key=KEY)) == (SPENT, "")
    assert door.judge(PAGE._replace(key="another")) == (NO_KEY, "")
    assert door.judge(PAGE._replace(key=KEY, held="another")) == (SPENT, "")


def test_the_first_browser_stays_in(door: Door, held: str) -> None:
    for asked in (PAGE, PAGE._replace(key=KEY), Asked(HOST), PAGE._replace(host="localhost:9000")):
        assert door.judge(asked._replace(held=held)) == ("", "")


def test_only_the_page_takes_the_key(door: Door) -> None:
    assert door.judge(Asked(HOST, key=KEY)).refusal == NO_KEY
    assert door.judge(Asked(HOST, key=KEY, is_socket=True, origin=f"http://{HOST}")).refusal == NO_KEY
    assert door.judge(PAGE._replace(key=KEY)).new_pass


def test_what_a_browser_fetches_ahead_does_not_spend_the_key(door: Door) -> None:
    assert door.judge(PAGE._replace(key=KEY, is_ahead=True)) == (AHEAD, "")
    assert door.judge(PAGE._replace(key=KEY)).new_pass


@pytest.mark.parametrize(
    "host",
    ["", "elsewhere.example", "127.0.0.1.elsewhere.example", "localhost.", "user@localhost", "localhost:",
     "::1", "localhost:8023:1", "localhost/", "10.0.0.1", "[::2]:8023", "localhost\n"],
)  # fmt: skip
def test_a_name_that_is_not_served_is_refused_and_spends_nothing(door: Door, host: str) -> None:
    assert door.judge(PAGE._replace(host=host, key=KEY)) == (OTHER_NAME, "")
    assert door.judge(PAGE._replace(key=KEY)).new_pass
    assert door.judge(PAGE._replace(host=host, held=KEY)).refusal == OTHER_NAME


@pytest.mark.parametrize("host", ["127.0.0.1", "LOCALHOST:1", "[::1]:8023"])
def test_the_served_names_may_have_any_port(door: Door, host: str) -> None:
    assert door.judge(PAGE._replace(host=host, key=KEY)).new_pass


def test_an_open_server_has_every_number_and_no_other_name() -> None:
    names = Names(frozenset({"desk"}), by_any_number=True)
    assert all(map(names.hold, ("192.0.2.7:8023", "[2001:db8::7]", "desk:8023")))
    assert not any(map(names.hold, ("192.0.2.7.example", "desk.example", "1.2.3", "[x]")))


@pytest.mark.parametrize(
    "origin", ["http://elsewhere.example", "null", "https://" + HOST, "http://127.0.0.1:9"]
)
def test_another_page_is_refused(door: Door, held: str, origin: str) -> None:
    for asked in (PAGE, Asked(HOST), Asked(HOST, is_socket=True)):
        assert door.judge(asked._replace(held=held, origin=origin)) == (OTHER_PAGE, "")


def test_a_socket_has_to_say_which_page_it_is_from(door: Door, held: str) -> None:
    socket = Asked(HOST, is_socket=True, held=held)
    assert door.judge(socket).refusal == OTHER_PAGE
    assert door.judge(socket._replace(origin=f"http://{HOST}")) == ("", "")
