"""What the programs of this folder share: rows, the engine's answers, and how a file is written."""

import json
import pathlib
import subprocess

HERE = pathlib.Path(__file__).parent


def row(name, note, request, **expectation):
    return {"id": name, **({"note": note} if note else {}), "request": request, **expectation}


def refused(name, request, code, field):
    return row(name, None, request, expect_error={"code": code, "field": field})


def ask(request):
    """The engine's own answer, by the example program `door`."""
    done = subprocess.run(["cargo", "run", "--quiet", "--package", "apiary-almanac", "--example", "door"],
                          check=True, text=True, cwd=HERE, input=json.dumps(request) + "\n",
                          stdout=subprocess.PIPE)
    return json.loads(done.stdout)


def engine(name, note, request, *fields):
    """A row of the engine's own answer, or of some fields of it."""
    answer = ask(request)
    if not fields:
        return row(name, note, request, expect=answer)
    return row(name, note, request, expect_part={field: answer[field] for field in fields})


def write(name, what, source, number, instant_s, rows):
    about = {"what": what, "source": source, "licence": "MIT OR Apache-2.0",
             "tolerance": {"number": number, "instant_s": instant_s}, "rows": len(rows)}
    head = json.dumps(about, indent=2, ensure_ascii=False).replace("\n", "\n  ")
    body = ",\n".join("    " + json.dumps(one, ensure_ascii=False) for one in rows)
    (HERE / f"{name}.json").write_text(
        f'{{\n  "about": {head},\n  "rows": [\n{body}\n  ]\n}}\n', encoding="utf-8")
