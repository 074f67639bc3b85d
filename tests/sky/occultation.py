# When the Moon's rim passes a star at a place, by skyfield 1.55 on the ephemeris DE421 (packages skyfield, skyfield-data 7).
# python3 tests/sky/occultation.py prints what tests/sky/occultation.test.ts holds.
from datetime import datetime, timedelta, timezone

import numpy as np
import skyfield_data
from skyfield.api import Loader, Star, wgs84

load = Loader(skyfield_data.get_skyfield_data_path(), expire=False, verbose=False)
scale = load.timescale(builtin=True)
bodies = load("de421.bsp")

STARS = {
    "Taygeta": (3.753471, 24.467280, 21.24, -40.56),
    "Alcyone": (3.791410, 24.105137, 19.34, -43.67),
    "Regulus": (10.139531, 11.967207, -248.73, 5.59),
}
RIM_KM = 1738.09


def contact(name, near, latitude, longitude):
    ra, dec, motion_ra, motion_dec = STARS[name]
    star = Star(ra_hours=ra, dec_degrees=dec, ra_mas_per_year=motion_ra, dec_mas_per_year=motion_dec)
    site = bodies["earth"] + wgs84.latlon(latitude, longitude, 0)
    start = datetime.fromisoformat(near).replace(tzinfo=timezone.utc)

    def outside(seconds):
        time = scale.from_datetime(start + timedelta(seconds=seconds))
        moon = site.at(time).observe(bodies["moon"]).apparent()
        seen = site.at(time).observe(star).apparent()
        return moon.separation_from(seen).radians - np.arcsin(RIM_KM / moon.distance().km)

    low, high = -120.0, 120.0
    assert outside(low) * outside(high) < 0
    while high - low > 0.005:
        middle = (low + high) / 2
        low, high = (middle, high) if outside(middle) * outside(low) > 0 else (low, middle)
    return (start + timedelta(seconds=low)).isoformat(timespec="milliseconds")


for case in [
    ("Taygeta", "2026-10-28T00:54:30", 46.4, 15.9),
    ("Taygeta", "2026-10-28T01:51:05", 46.4, 15.9),
    ("Alcyone", "2026-11-24T11:24:04", 46.4, 15.9),
    ("Alcyone", "2026-11-24T12:05:09", 46.4, 15.9),
]:
    print(case[0], contact(*case))
