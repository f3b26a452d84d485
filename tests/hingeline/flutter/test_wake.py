"""The wake functions: exact, bounded, and right for growing and dying motion too."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import hankel2, kve

from hingeline.errors import InputRefused
from hingeline.flutter import wake
from hingeline.flutter.wake import (
    WAKE_SLOPES,
    WAKES,
    no_lag,
    theodorsen,
    theodorsen_slope,
    two_lag,
    wake_named,
)

# s, Re C, Im C, Re C', Im C' to 30 digits: computed with mpmath 1.3 at 50 digits from its own Bessel functions.
THIRTY_DIGITS = [
    (
        0.001j,
        "0.99838258134641569251998324749",
        "-0.00700130186594032146945418546067",
        "-5.98188863077279709565494747421",
        "1.64981823456948379017543214589",
    ),
    (
        0.01j,
        "0.982421502833096003078777164073",
        "-0.0456520927493173295298833561936",
        "-3.43986723265411831145708030995",
        "1.84405653216630703756943386858",
    ),
    (
        0.1j,
        "0.831924104965276150460106421255",
        "-0.172302228734195002724417082907",
        "-0.479977051191846949256190889138",
        "1.3505400082293219386608708233",
    ),
    (
        0.5j,
        "0.59793606425013200211612005687",
        "-0.150709503162635276449957029202",
        "0.136832546160898721804014618614",
        "0.224824757000174224693247006606",
    ),
    (
        1j,
        "0.539434871077793939955648377919",
        "-0.1002729028641077882478406756",
        "0.0709612441615033892228210026175",
        "0.0579537402636569904083085019595",
    ),
    (
        2.5j,
        "0.508744032607030532451246888573",
        "-0.0472969044488503472079544646431",
        "0.0171572126742911809904307063317",
        "0.00627040672798365222250773675162",
    ),
    (
        20j,
        "0.500155791262331989758061339057",
        "-0.006243206957444718836247611206",
        "0.000311485260954689498741671801637",
        "0.0000155337532203656849279310238235",
    ),
    (
        300j,
        "0.500000694435282097240144986339",
        "-0.000416664641261167690154920515739",
        "0.00000138886863521696232901033928505",
        "0.00000000462950746807614530334554821013",
    ),
    (
        (0.2 + 0.1j),
        "0.719244218254933304494835317482",
        "-0.0484223256001600424409416556335",
        "-0.421083600692549459944376735256",
        "0.226778218177958623021293135015",
    ),
    (
        (0.7 + 0.9j),
        "0.565361107958875954873116320334",
        "-0.0547648021333013165864140824798",
        "-0.00816398026963855357777467699092",
        "0.0588112532755245695133182056729",
    ),
    (
        (3 + 4j),
        "0.515379387882959165219384550461",
        "-0.0177863059379069206466620033688",
        "0.000661662913679156913252708565006",
        "0.00437451026182235651011506144312",
    ),
    ((0.5 + 0j), "0.641817455138182027340122386054", "0.0", "-0.176140708559895401505100377817", "0.0"),
    (
        (-0.05 + 0.3j),
        "0.655464406399067481264107453792",
        "-0.204095999797288112331464379339",
        "0.24970180414587825698091216504",
        "0.493632486768267276839492278022",
    ),
    (
        (-0.6 + 0.7j),
        "0.471201562481791986684692300909",
        "-0.143519376977751190714306672744",
        "0.139635435873606690486360523184",
        "-0.0707115039289622424033151038683",
    ),
    (
        (-0.9 + 0.5j),
        "0.414928198064504728179642362179",
        "-0.129210193801249388336081370835",
        "0.0605209248487742740868831701363",
        "-0.154700413902866871018962986347",
    ),
    (
        (-1.5 + 0.2j),
        "0.38856722776934559941645297875",
        "-0.0467943642426070452706578882579",
        "-0.064898537915579018935645539963",
        "-0.0794790285888830657055301002843",
    ),
    (
        (-4 + 3j),
        "0.479605431357316911628190987082",
        "-0.0178404110144822467695120489742",
        "-0.000717439194867400170413433005481",
        "-0.00580897220461467991669239457317",
    ),
    (
        (-10 + 0.5j),
        "0.486847920855343115561824540693",
        "-0.000695733004838300003700795981658",
        "-0.00138361745219247001427842533555",
        "-0.00014726903492917171884898563787",
    ),
    (
        (1e-09 + 1e-09j),
        "0.999999978721978138657192569792",
        "-0.0000000197072247602658654494805599954",
        "-19.492622901839867597123417549",
        "0.785398898265027455092216359675",
    ),
]

anywhere = st.builds(
    lambda size, angle: 10**size * complex(math.cos(angle), math.sin(angle)),
    st.floats(-9, 4),
    st.floats(-math.pi + 1e-9, math.pi - 1e-9),
)
growing = st.builds(
    lambda size, angle: 10**size * complex(math.cos(angle), math.sin(angle)),
    st.floats(-9, 3),
    st.floats(-math.pi / 2, math.pi / 2),
)


@pytest.mark.parametrize(("s", "real", "imaginary", "slope_real", "slope_imaginary"), THIRTY_DIGITS)
def test_thirty_digits(s: complex, real: str, imaginary: str, slope_real: str, slope_imaginary: str) -> None:
    """C and its slope meet values of thirty digits to 4e-15 in all parts of the plane."""
    assert abs(theodorsen(s) - complex(float(real), float(imaginary))) < 4e-15
    slope = complex(float(slope_real), float(slope_imaginary))
    assert abs(theodorsen_slope(s) - slope) < 4e-15 * max(1.0, abs(slope))


@given(growing)
def test_another_program(s: complex) -> None:
    """For steady and growing motion C is that of scaled Bessel functions by another program."""
    k0, k1 = kve(0, s), kve(1, s)

    assert theodorsen(s) == pytest.approx(k1 / (k0 + k1), rel=1e-13)


@pytest.mark.parametrize("k", [0.02, 0.3, 0.999, 1.001, 4.0, 30.0])
def test_hankel_form(k: float) -> None:
    """On the imaginary axis C is H1/(H1 + i H0) of the second kind, as NACA Report 496 writes it (from memory)."""
    h0, h1 = hankel2(0, k), hankel2(1, k)

    assert theodorsen(1j * k) == pytest.approx(h1 / (h1 + 1j * h0), rel=1e-13)


@given(anywhere)
def test_mirror(s: complex) -> None:
    """C of a conjugate root is the conjugate, so that roots come in pairs."""
    assert theodorsen(s.conjugate()) == theodorsen(s).conjugate()


def test_ends() -> None:
    """C(0) is exactly 1 and C(∞) is 1/2, on the way to both without overflow."""
    assert theodorsen(0) == 1
    assert theodorsen(1e-300j) == pytest.approx(1)
    for s in (1e6j, 1e300j, 1e300, -1e300 + 1e290j):
        assert theodorsen(s) == pytest.approx(0.5, abs=1e-6)


def test_lag() -> None:
    """The lift lags: the imaginary part is negative at every frequency, largest between k = 0.16 and 0.24."""
    k = np.geomspace(1e-6, 1e4, 4001)
    value = theodorsen(1j * k)

    assert np.all(value.imag < 0)
    assert np.all(np.diff(value.real) < 0)
    assert 0.16 < k[np.argmin(value.imag)] < 0.24


def test_near_zero_it_is_k_ln_k() -> None:
    """Near zero C - 1 goes as s (ln(s/2) + γ), which no fraction of polynomials can follow."""
    s = 1e-8j

    assert theodorsen(s) - 1 == pytest.approx(s * (np.log(s / 2) + 0.5772156649015329), rel=1e-6)


def test_the_seams_are_tight() -> None:
    """Across |s| = 1 and across the imaginary axis, where the method changes, nothing jumps."""
    angle = np.linspace(-3.14, 3.14, 401)
    ring = np.exp(1j * angle)
    assert theodorsen(ring * (1 - 1e-15)) == pytest.approx(theodorsen(ring * (1 + 1e-15)), rel=2e-14)

    axis = 1j * np.geomspace(1.001, 100, 200)
    assert theodorsen(axis - 1e-15) == pytest.approx(theodorsen(axis + 1e-15), rel=2e-14)


def test_it_is_analytic() -> None:
    """Around a closed path off the cut, crossing both seams, the integral of C is zero."""
    turn = np.exp(2j * np.pi * np.arange(256) / 256)

    assert abs(np.mean(theodorsen(1j + 0.9 * turn) * turn)) < 1e-14


def test_the_cut() -> None:
    """A real decaying root gets the value just above the cut; just below, the imaginary part is the other."""
    assert theodorsen(-2.0) == pytest.approx(theodorsen(-2 + 1e-15j), abs=1e-14)
    assert theodorsen(-2 - 1e-15j) == pytest.approx(theodorsen(-2.0).conjugate(), abs=1e-14)
    assert abs(theodorsen(-2.0).imag) > 0.01


def test_shape_and_kind() -> None:
    """A number gives a number, an array an array of its shape, an empty one an empty one."""
    assert isinstance(theodorsen(0.1j), complex)
    assert theodorsen(np.full((2, 3), 0.1j)).shape == (2, 3)
    assert theodorsen(np.array([], dtype=complex)).shape == (0,)


@pytest.mark.parametrize("name", list(WAKES))
def test_slopes(name: str) -> None:
    """The slope of every wake function is that of fourth-order differences."""
    for s in (0.05 + 0.2j, 0.9j, -0.1 + 0.5j, 2 + 1j):
        h = 1e-3 * abs(s)
        f = {n: WAKES[name](s + n * h) for n in (-2, -1, 1, 2)}
        difference = (f[-2] - 8 * f[-1] + 8 * f[1] - f[2]) / (12 * h)

        assert WAKE_SLOPES[name](s) == pytest.approx(difference, abs=2e-10)


def test_no_slope_at_zero() -> None:
    """At zero the exact slope has no bound, and that is said."""
    with pytest.raises(InputRefused, match=r"C has no slope at s = 0"):
        theodorsen_slope(np.array([0.1j, 0]))


def test_two_lags() -> None:
    """The two lags start at 1, end at 1/2, and stay within 0.025 of C on the imaginary axis."""
    s = 1j * np.geomspace(1e-4, 1e4, 2001)

    assert two_lag(0.0) == 1
    assert two_lag(1e12) == pytest.approx(0.5, abs=1e-10)
    off = np.abs(two_lag(s) - theodorsen(s))
    assert 0.01 < off.max() < 0.025


def test_no_lag() -> None:
    """Without a wake C is 1 wherever it is asked for, in the shape that was asked."""
    assert no_lag(3j) == 1
    assert np.all(no_lag(np.ones((2, 2))) == np.ones((2, 2)))


@pytest.mark.parametrize(
    ("wrong", "value"),
    [
        ("conjugated C", lambda k: theodorsen(1j * k).conjugate()),
        ("k on the full chord", lambda k: theodorsen(2j * k)),
        ("C = 1", no_lag),
        ("reciprocal", lambda k: 1 / theodorsen(1j * k)),
    ],
)
def test_classic_mistakes(wrong: str, value: wake.Wake) -> None:
    """Each classic mistake with C is seen at once in the table of NACA Report 496 (from memory): k = 0.3."""
    table = 0.6650 - 0.1793j

    assert abs(theodorsen(0.3j) - table) < 5e-5
    assert abs(value(0.3) - table) > 0.05, wrong


def test_names() -> None:
    """Every wake of the contract has its function, and another name is refused with the four."""
    assert wake_named("theodorsen") is theodorsen
    with pytest.raises(InputRefused, match=r'"jones" is refused. Expected one of theodorsen, two-lag, quasi-steady'):
        wake_named("jones")
