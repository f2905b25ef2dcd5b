"""Makes sun_de421.csv: sunrise, sunset and twilights from JPL DE421 with Skyfield.

    python3 -m venv target/venv
    target/venv/bin/pip install skyfield==1.55 skyfield-data==7.0.0
    target/venv/bin/python tests/published/make_sun_fixture.py

The sun's centre is followed as seen from the middle of the Earth (apparent place: light time,
aberration, precession, IAU 2000A nutation), and its altitude is that above the plane of the horizon
at the geodetic latitude: no parallax, no refraction. Every time is UT1 on a clock that runs with the
Earth, because Skyfield's UTC before 1972 has no leap seconds to follow. The days are solar days:
from the lowest altitude before local noon to the lowest after it.
"""

import csv
import datetime
import io
import pathlib
import random
import warnings

import numpy as np
import skyfield
import skyfield_data
from skyfield.api import Loader

warnings.filterwarnings("ignore")

SITES = [  # latitude, longitude
    (0.0, 0.0),
    (-0.2, -78.5),
    (1.3, 103.8),
    (-3.1, -60.0),
    (7.9, 98.3),
    (10.5, -85.4),
    (-12.5, 130.8),
    (14.1, 121.2),
    (-16.9, -179.99),
    (19.2, -96.1),
    (-21.2, -159.8),
    (-23.5, -46.6),
    (-27.5, 153.0),
    (-28.8, 153.3),
    (-34.0, 151.2),
    (35.0, 135.8),
    (41.9, 12.5),
    (-45.9, 170.5),
    (51.5, 0.0),
    (-54.8, -68.3),
    (59.9, 10.8),
    (-63.5, -57.0),
    (65.9, 24.1),
    (69.6, 18.9),
    (78.2, 15.6),
    (-77.8, 166.7),
    (1.9, -157.4),
    (-19.0, 179.99),
]
ALTITUDES_DEG = [-50 / 60, -6.0, -12.0, -18.0]
DAYS_PER_SITE = 14

data = Loader(skyfield_data.get_skyfield_data_path(), expire=False)
timescale = data.timescale(builtin=True)
ephemeris = data("de421.bsp")
earth, sun = ephemeris["earth"], ephemeris["sun"]


def altitude_deg(latitude_deg, longitude_deg, t):
    ra, dec, _ = earth.at(t).observe(sun).apparent().radec(epoch="date")
    hour_angle = np.radians(t.gast * 15.0 + longitude_deg) - ra.radians
    latitude = np.radians(latitude_deg)
    sine = np.sin(latitude) * np.sin(dec.radians)
    sine = sine + np.cos(latitude) * np.cos(dec.radians) * np.cos(hour_angle)
    return np.degrees(np.arcsin(sine))


def at_ut1(days):
    """A Skyfield time from days of UT1 since 1970-01-01."""
    return timescale.ut1_jd(np.asarray(days) + 2440587.5)


def crossing(f, low, high):
    """The sign change of f between low and high, to 1e-10 days."""
    sign = f(low) > 0
    while high - low > 1e-10:
        middle = (low + high) / 2
        if (f(middle) > 0) == sign:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def rows():
    chance = random.Random(1900)
    for latitude, longitude in SITES:
        for _ in range(DAYS_PER_SITE):
            date = datetime.date(1900, 1, 2) + datetime.timedelta(days=chance.randrange(55140))
            wanted = chance.choice(ALTITUDES_DEG)
            # Mean noon of that date at the site's own meridian.
            noon = (date - datetime.date(1970, 1, 1)).days + 0.5 - longitude / 360
            grid = noon + np.arange(-0.56, 0.5601, 1 / 720)
            altitudes = altitude_deg(latitude, longitude, at_ut1(grid))
            half = len(grid) // 2
            # From the lowest point of the first half to that of the second half.
            start = int(np.argmin(altitudes[:half]))
            end = half + int(np.argmin(altitudes[half:]))

            def excess(day):
                return float(altitude_deg(latitude, longitude, at_ut1(day)) - wanted)

            above = altitudes[start : end + 1] > wanted
            found = {"rise": "", "set": "", "rise_rate": "", "set_rate": ""}
            for i in np.nonzero(above[1:] != above[:-1])[0]:
                low, high = grid[start + i], grid[start + i + 1]
                name = "set" if above[i] else "rise"
                assert not found[name], "two rises or two sets in a day"
                day = crossing(excess, low, high)
                rate = (excess(day + 1e-4) - excess(day - 1e-4)) / 2e-4 / 24
                found[name] = f"{day * 86400:.4f}"
                found[name + "_rate"] = f"{abs(rate):.3f}"
            if found["rise"] or found["set"]:
                kind = "event"
            else:
                kind = "above" if above.all() else "below"
            margin = float(np.min(np.abs([altitudes.max() - wanted, altitudes[start] - wanted])))
            yield {
                "latitude_deg": latitude,
                "longitude_deg": longitude,
                "date": date.isoformat(),
                "altitude_deg": f"{wanted:.10f}",
                "kind": kind,
                "rise_ut1_s": found["rise"],
                "set_ut1_s": found["set"],
                "rise_deg_per_h": found["rise_rate"],
                "set_deg_per_h": found["set_rate"],
                "margin_deg": f"{margin:.3f}",
                "delta_t_s": f"{float(at_ut1(noon).delta_t):.3f}",
            }


def main():
    table = list(rows())
    text = io.StringIO()
    text.write("# source: JPL DE421 through Skyfield (skyfield-data), free to reuse\n")
    text.write(f"# version: skyfield {skyfield.__version__}\n")
    text.write("# convention: geocentric apparent centre, no refraction, no parallax\n")
    text.write("# time: seconds of UT1 since 1970-01-01 0 h; date: on the site's own meridian\n")
    text.write(f"# rows: {len(table)}\n")
    writer = csv.DictWriter(text, fieldnames=list(table[0]), lineterminator="\n")
    writer.writeheader()
    writer.writerows(table)
    path = pathlib.Path(__file__).with_name("sun_de421.csv")
    path.write_text(text.getvalue())
    print(path, len(table), "rows")


if __name__ == "__main__":
    main()
