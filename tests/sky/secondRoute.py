"""
Sun, Moon and planets by two packages of Debian: astropy with its own ephemeris (ERFA's), and ephem (XEphem's VSOP87 and
lunar theory). Hours are universal time, of the day that the test names.

    /usr/bin/python3 tests/sky/secondRoute.py            keys and values, for tests/secondRoutes.test.ts
    /usr/bin/python3 tests/sky/secondRoute.py places     JSON: places of a year, for packages.test.ts
"""

import json
import math
import sys

import ephem
from scipy import optimize

BODIES = {"Mercury": ephem.Mercury, "Venus": ephem.Venus, "Mars": ephem.Mars, "Jupiter": ephem.Jupiter,
          "Saturn": ephem.Saturn, "Uranus": ephem.Uranus, "Neptune": ephem.Neptune, "Moon": ephem.Moon}


def hours(date):
    return (float(date) - 0.5) % 1 * 24


def show(key, *pairs):
    print(f"{key}:", *(f"{v:.10g}~{w:g}" for v, w in pairs))


def opposition(name, low, high):
    def apart(day):
        planet, sun = BODIES[name](ephem.Date(day)), ephem.Sun(ephem.Date(day))
        return math.sin(planet.hlon - sun.hlon)
    day = optimize.brentq(apart, ephem.Date(low), ephem.Date(high), xtol=1e-6)
    return day, BODIES[name](ephem.Date(day)).earth_distance


TEN = 10 / 60  # minutes, h
found = [opposition(*case) for case in (("Saturn", "2026/9/1", "2026/11/1"), ("Saturn", "2027/9/1", "2027/12/1"),
                                        ("Jupiter", "2027/1/1", "2027/4/1"), ("Mars", "2027/1/1", "2027/4/1"),
                                        ("Uranus", "2026/10/15", "2027/1/1"))]


def places():
    """Places of date, degrees, and distances, AU, at noon of 36 days, by both packages."""
    import warnings

    import astropy.units as u
    from astropy.coordinates import GeocentricTrueEcliptic, PrecessedGeocentric, get_body, get_sun, solar_system_ephemeris
    from astropy.time import Time
    from astropy.utils import iers
    iers.conf.auto_download = False
    warnings.simplefilter("ignore")
    out = []
    for k in range(36):
        when = ephem.Date(ephem.Date("2026/7/3 21:00") + 10 * k)
        time = Time(when.datetime(), scale="utc")
        for name, body in {**BODIES, "Sun": ephem.Sun}.items():
            one = body(when, epoch=when)
            with solar_system_ephemeris.set("builtin"):
                there = get_body(name.lower(), time)
            of_date = there.transform_to(PrecessedGeocentric(equinox=time, obstime=time))
            out.append({"name": name, "date": when.datetime().strftime("%Y-%m-%dT%H:%M:%SZ"),
                        "ephem": [math.degrees(one.g_ra), math.degrees(one.g_dec), one.earth_distance],
                        "astropy": [of_date.ra.deg, of_date.dec.deg, there.distance.to(u.au).value]})
    return out


if "places" in sys.argv:
    print(json.dumps(places()))
    sys.exit()

show("oppositions", *[(hours(day), TEN) for day, _ in found], *[(au, 3e-3 * au) for _, au in found])
show("Moon and solstice", *[(hours(d), TEN) for d in (ephem.next_full_moon("2026/8/20"), ephem.next_new_moon("2026/8/5"),
                                                      ephem.next_winter_solstice("2026/8/1"))])
show("December's full Moon", (hours(ephem.next_full_moon("2026/12/15")), TEN))


def farthest(low, high):
    elong = lambda day: -abs(ephem.Venus(ephem.Date(day)).elong)
    day = optimize.minimize_scalar(elong, bounds=(ephem.Date(low), ephem.Date(high)), method="bounded", options={"xatol": 1e-4}).x
    return day, math.degrees(-elong(day))


show("Venus beside the Sun", *[pair for low, high in (("2026/8/1", "2026/9/1"), ("2026/12/20", "2027/1/20"))
                               for day, angle in [farthest(low, high)] for pair in ((hours(day), 0.5), (angle, 0.02))])
site = ephem.Observer()
site.lat, site.lon, site.elevation = "50", "0", 0
site.date, site.pressure, site.temp = "2026/10/4 22:00", 1010, 10
saturn = ephem.Saturn(site)
show("Saturn at 50 north", (math.degrees(saturn.az), 0.02), (math.degrees(saturn.alt), 0.02))
site.date, site.pressure = "2026/12/21 12:00", 0
site.horizon = "-0:34"
sunset = site.next_setting(ephem.Sun())
site.horizon = "-18"
show("shortest day", (hours(sunset), 1 / 60), (hours(site.next_setting(ephem.Sun(), use_center=True)), 1 / 60))
# ephem counts a tilt southward as +: then their north face is seen, as in 2017
show("rings", *[(math.degrees(ephem.Saturn(day).earth_tilt), 0.03) for day in
                ("2017/6/15", "1997/1/1", "2003/1/1", "2026/10/4", "2009/12/1", "2025/6/1")])
show("rings at opposition", (math.degrees(ephem.Saturn("2026/10/4 22:00").earth_tilt), 0.03))
