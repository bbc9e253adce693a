"""One-time codes against the test vectors of RFC 6238, appendix B (SHA-1, 8 digits, 30 s)."""

import pytest
from django_otp.oath import TOTP

KEY = b"12345678901234567890"  # the seed of the appendix
VECTORS = {
    59: 94287082,
    1111111109: 7081804,
    1111111111: 14050471,
    1234567890: 89005924,
    2000000000: 69279037,
    20000000000: 65353130,
}


@pytest.mark.parametrize("seconds", VECTORS)
def test_the_library_makes_the_codes_of_the_standard(seconds: int) -> None:
    totp = TOTP(KEY, step=30, t0=0, digits=8)
    totp.time = seconds
    assert totp.token() == VECTORS[seconds]
