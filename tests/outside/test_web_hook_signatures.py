"""The carrier's signature against examples that others published.

Sources: the carrier's page on the security of its calls, with the worked example of token 12345; an older copy of that
page, whose numbers end in 5309, which also stands in the unit tests of its Python client. The numbers, names and
addresses below are the published ones, because they are what was signed.
"""

from urllib.parse import urlencode

import pytest

from gateway.doors.carrier import signature_check
from gateway.doors.faces import HookSettings
from gateway.doors.inbox.calls import FORM, CallRefused, CallUseless, HookCall, read_call
from tests.doors.callers import signature

TOKEN = "12345"
PUBLISHED = {
    "the page on security": (
        "https://example.com/myapp.php?foo=1&bar=2",
        {
            "CallSid": "CA1234567890ABCDE",
            "Caller": "+14158675310",
            "Digits": "1234",
            "From": "+14158675310",
            "To": "+18005551212",
        },
        "L/OH5YylLD5NRKLltdqwSvS0BnU=",
    ),
    "its older copy": (
        "https://mycompany.com/myapp.php?foo=1&bar=2",
        {
            "CallSid": "CA1234567890ABCDE",
            "Caller": "+14158675309",
            "Digits": "1234",
            "From": "+14158675309",
            "To": "+18005551212",
        },
        "RSOYDt4T1cUTdK1PDd93/VVr8B8=",
    ),
}
each = pytest.mark.parametrize(("url", "fields", "signed"), PUBLISHED.values(), ids=PUBLISHED)


@each
def test_the_published_example_is_accepted(url: str, fields: dict[str, str], signed: str) -> None:
    check = signature_check(TOKEN)
    assert check(url, [*fields.items()], signed)
    assert check(url, [*reversed(fields.items())], signed)  # in whatever order they come


@each
def test_the_signer_of_our_own_tests_makes_the_published_value(url: str, fields: dict[str, str], signed: str) -> None:
    assert signature(url, [*fields.items()], TOKEN) == signed


@each
def test_one_change_of_the_published_example_is_not_accepted(url: str, fields: dict[str, str], signed: str) -> None:
    check, pairs = signature_check(TOKEN), [*fields.items()]
    assert not check(url.replace("foo=1", "foo=2"), pairs, signed)
    assert not check(url.replace("&bar=2", ""), pairs, signed)
    assert not check(url.replace("https", "http"), pairs, signed)
    assert not check(url, pairs[1:], signed)
    assert not check(url, [*pairs, ("Extra", "")], signed)
    assert not check(url, [*pairs[:-1], ("To", "+18005551213")], signed)
    assert not check(url, pairs, signed.swapcase())
    assert not signature_check("12346")(url, pairs, signed)


@each
def test_a_port_in_the_address_counts_for_nothing_as_the_carrier_is_inconsistent_about_it(
    url: str, fields: dict[str, str], signed: str
) -> None:
    # A note in the client's source. Another host on another port is another matter.
    check, pairs = signature_check(TOKEN), [*fields.items()]
    assert check(url.replace(".com", ".com:8443"), pairs, signed)
    assert not check(url.replace(".com", ".org:8443"), pairs, signed)


@each
def test_a_whole_call_signed_as_published_passes_the_signature_and_only_then_its_fields_are_looked_at(
    url: str, fields: dict[str, str], signed: str
) -> None:
    base, _, query = url.partition("?")
    hook = HookSettings(name="main", host="", port=0, public_url=base, account="AC1", sender="+18005551212")
    asked = HookCall(
        path="", query=query.encode(), content_types=(FORM,), signatures=(signed,), body=urlencode(fields).encode()
    )
    with pytest.raises(CallUseless):  # the example is about a voice call and names no account
        read_call(asked, hook, signature_check(TOKEN))
    with pytest.raises(CallRefused):
        read_call(asked, hook, signature_check("54321"))
