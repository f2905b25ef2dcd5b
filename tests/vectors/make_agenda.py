"""Writes agenda.json: what a keeper needs at a moment, told as stories. All names and records are invented.

    python tests/vectors/make_agenda.py

The answers are the engine's own. What each story must show, and what it must not, is written here by hand and
looked at before anything is written; a row holds the doors to the whole answer, or to the lists of a story.
"""

from making import ask, refused, row, write

CLUB = {"latitude_deg": -28.81, "longitude_deg": 153.28, "elevation_m": 12, "zone": "Australia/Sydney"}
CURITIBA = {"name": "Curitiba", "site": {"latitude_deg": -25.43, "longitude_deg": -49.27, "elevation_m": 920,
                                         "zone": "America/Sao_Paulo"}}
SINGAPORE = {"name": "Singapore", "site": {"latitude_deg": 1.35, "longitude_deg": 103.8, "elevation_m": 15,
                                           "zone": "Asia/Singapore"}}
STAMP = "2026-11-26T08:00:00-03:00"
WATTLE = {"name": "Wattle", "daughter_name": "Saltbush"}
BUNYA = {"name": "Bunya", "daughter_name": "Quandong", "net_weight_kg": 3.8, "months_since_division": 30,
         "strength": "strong"}
GIDGEE = {"name": "Gidgee", "net_weight_kg": 3.1, "months_since_division": 2, "strength": "weak"}
DIVIDED = {"date": "2026-10-02", "task": "divide"}
# Umlauts are two bytes each: 2,000 bytes, the longest note.
LONG_NOTE = "ü" * 1000


def plan(today, records=(), colony=WATTLE, **fields):
    return {"site": CLUB, "today": today, "method": "split", "colony": colony, "records": list(records), **fields}


def record(date, **fields):
    return {"date": date, **fields}


def sign(kind, which, **fields):
    return {"kind": kind, "which": which, **fields}


def agenda(*plans):
    return {"ask": "agenda", "plans": list(plans), "brief": True}


def whole(name, note, request):
    return row(name, note, request, expect=ask(request))


LISTS = ("now", "next", "this_week", "later", "only_if")


def item(one):
    more = {key: one[key] for key in ("then", "answers", "still_shut") if key in one}
    return {"task": one["task"], "box_name": one["box_name"], "date": one["date"], **more}


def story(name, note, *plans, state, now, following, hidden=(), questions=None, advice=None, watch=None, checks=()):
    """A story: its state, what is to be done now and next, and what must not be shown, all said by hand."""
    answer = ask(agenda(*plans))
    of = answer["colonies"][0]
    said = {"state": answer["state"]["word"],
            "now": [one["task"] for one in answer["now"]],
            "following": [(one["task"], one["box_name"], one["date"]) for one in answer["next"]]}
    wanted = {"state": state, "now": list(now), "following": list(following)}
    assert said == wanted, (name, said, wanted)
    shown = {(one["task"], one["box_name"]) for list_ in LISTS for one in answer[list_]}
    shown |= {(one["item"]["task"], one["item"]["box_name"]) for one in answer["questions"]}
    for task, box in hidden:
        found = [one for one in shown if one[0] == task and box in (None, one[1])]
        assert not found, (name, found)
    if questions is not None:
        asked = [one["item"]["task"] for one in answer["questions"]]
        assert asked == list(questions), (name, asked)
    given = [one["advice"] for one in of["advice"]]
    if advice is not None:
        assert given == list(advice), (name, given)
    if watch is not None:
        assert of["pair"].get("watch") == watch, (name, of["pair"])
    for check in checks:
        check(answer)
    part = {"state": answer["state"],
            "colonies": [{"state": one["state"], "advice": one["advice"],
                          **{key: one[key] for key in ("pair", "watch", "signs", "settle") if key in one}}
                         for one in answer["colonies"]],
            **{list_: [item(one) for one in answer[list_]] for list_ in LISTS},
            "questions": [{"item": item(one["item"]), "was_due": one["was_due"]} for one in answer["questions"]]}
    return row(name, note, agenda(*plans), expect_part=part)


def says(text, *words):
    for word in words:
        assert word in text, (text, word)


def settles(box, from_day):
    def check(answer):
        settle = answer["colonies"][0]["settle"]
        assert (settle["which"], settle["from"]) == (box, from_day), settle
    return check


def no_counts_from(day):
    def check(answer):
        assert answer["colonies"][0]["settle"]["no_counts_from"] == day, answer["colonies"][0]["settle"]
    return check


def lids_and_entrances(answer):
    says(answer["colonies"][0]["advice"][0]["text"], "Leave the lids closed", "Entrances stay open")


def stands_with(*tasks):
    """The first item of today has these behind it, each in its stage."""
    def check(answer):
        assert [one["task"] for one in answer["now"][0].get("then", [])] == list(tasks), answer["now"][0]
    return check


def can_be_said(*answers):
    def check(answer):
        given = [(one["said"]["text"], one["tasks"]) for one in answer["now"][0].get("answers", [])]
        assert given == list(answers), given
    return check


def is_shut(answer):
    assert answer["now"][0]["still_shut"], answer["now"][0]


def rows():
    males = record("2026-10-19", signs=[sign("males_turned_out", "daughter", count=12)])
    old_queen = record("2026-10-16", outcome="queen_seen", which="parent")
    no_eggs = record("2026-11-01", task="egg-check", outcome="no_eggs", which="daughter")
    second = record("2026-12-01", task="second-look", outcome="cells_without_eggs")
    gave = record("2026-12-02", task="decide", outcome="gave_brood")
    stages = [record(day, task=task) for day, number in (("2026-10-24", 1), ("2026-10-26", 2))
              for task in (f"stage-{number}", f"stage-{number}-open")]
    moved = [DIVIDED, *stages]
    # Set on in September, brood and eggs seen in November, parted, set beside in two stages.
    parted = [record("2026-09-26", task="set-on"),
              record("2026-11-14", task="look-through-2", signs=[sign("brood", "daughter"),
                                                                 sign("eggs", "daughter")]),
              record("2026-11-20", task="part"),
              record("2026-11-27", task="beside-1"), record("2026-11-29", task="beside-2")]
    seventeen = record("2026-12-07", signs=[sign("males_turned_out", "daughter", count=12),
                                            sign("steady_streams", "pair"), sign("resin_in", "pair"),
                                            sign("bees_enter_other", "pair")])
    first_move = record("2026-10-24", task="stage-1")
    second_stage = [("stage-2-close", "Wattle", "2026-10-25")]
    queens = [("egg-check", None), ("second-look", None), ("decide", None), ("late-look", None)]
    return [
        story("day-18", "Divided, 12 males turned out: nothing can be told yet, and lids stay closed.",
              plan("2026-10-20", [DIVIDED, males]),
              state="uncertain", now=[],
              following=[("stage-1-close", "Wattle", "2026-10-23"),
                         ("side-by-side", "Wattle + Saltbush", "2026-10-23")],
              advice=["leave_alone"], watch="pair",
              checks=[settles("pair", "2026-11-01"), no_counts_from("2026-12-01"), lids_and_entrances]),
        story("eduction-waits", "Nothing is parted by a date.",
              plan("2026-09-27", parted[:1], method="eduction"),
              state="good", now=[], following=[("look-through-1", "Saltbush", "2026-10-24")],
              hidden=[("part", None), ("beside-1", None), *queens], questions=[]),
        story("parted-and-moved-day-17", "Parted and moved in stages; males on day 17 settle nothing.",
              plan("2026-12-07", [*parted, seventeen], method="eduction"),
              state="uncertain", now=[],
              following=[("egg-check", "Wattle + Saltbush", "2026-12-20"),
                         ("side-by-side", "Wattle + Saltbush", "2026-12-20")],
              hidden=[("beside-1", None), ("beside-2", None), ("part", None)], questions=[],
              advice=["leave_alone"], watch="pair",
              checks=[settles("pair", "2026-12-20"), lids_and_entrances]),
        story("settled-on-its-day", "Eggs in both boxes on day 30: nobody is asked to look or to help any more.",
              plan("2026-12-20", [*parted, seventeen, record("2026-12-20", task="egg-check", outcome="eggs_seen",
                                                             which="pair")], method="eduction"),
              state="laying_queen_seen", now=["side-by-side"],
              following=[("new-workers", "Wattle + Saltbush", "2027-02-13")],
              hidden=queens, questions=[], advice=["leave_alone"]),
        story("eggs-seen", "Nobody is asked to look or to help any more.",
              plan("2026-11-03", [*moved, record("2026-11-02", signs=[sign("eggs", "pair")])]),
              state="laying_queen_seen", now=[], following=[("new-workers", "Wattle + Saltbush", "2026-12-27")],
              hidden=queens, questions=[]),
        story("queen-on-day-14", "The old queen: the other box is watched.",
              plan("2026-10-16", [DIVIDED, old_queen]),
              state="uncertain", now=["pest-day-14"],
              following=[("stage-1-close", "Wattle", "2026-10-23"),
                         ("side-by-side", "Wattle + Saltbush", "2026-10-23")],
              hidden=[("egg-check", "Wattle + Saltbush"), ("egg-check", "Wattle")], watch="daughter",
              checks=[settles("daughter", "2026-11-01")]),
        story("no-eggs-is-no-failure", "No eggs on day 30: too early for a “no”.",
              plan("2026-11-02", [*moved, old_queen, no_eggs]),
              state="uncertain", now=[], following=[("second-look", "Saltbush", "2026-12-01")],
              hidden=[("egg-check", None)], advice=["leave_alone"], watch="daughter"),
        story("no-eggs-on-its-day", "No eggs on day 60: help, brood first, until day 110.",
              plan("2026-12-01", [*moved, old_queen, no_eggs, second]),
              state="failing", now=[], following=[("decide", "Saltbush", "2026-12-02")],
              hidden=[("egg-check", None), ("second-look", None)], questions=[],
              advice=["give_brood", "give_cells"], watch="daughter",
              checks=[lambda answer: says(answer["colonies"][0]["advice"][0]["until"], "2027-01-20")]),
        story("brood-given", "Its own wait of 20 to 30 days; lids closed until then.",
              plan("2026-12-04", [*moved, old_queen, no_eggs, second, gave]),
              state="uncertain", now=[], following=[("help-look-1", "Saltbush", "2026-12-27")],
              hidden=[("egg-check", None), ("second-look", None), ("decide", None)], questions=[],
              advice=["leave_alone"], watch="daughter",
              checks=[settles("daughter", "2026-12-22"), no_counts_from("2027-01-01"), lids_and_entrances]),
        story("joined", "The pair ends.",
              plan("2027-01-22", [*moved, old_queen, no_eggs, second, gave,
                                  record("2027-01-20", task="late-look", outcome="joined")]),
              state="joined", now=[], following=[],
              hidden=[*queens, ("help-look-1", None), ("new-workers", None), ("next-daughter", None)],
              questions=[], advice=[]),
        story("a-box-lost", "Its tasks end, those of the other go on.",
              plan("2026-10-20", [DIVIDED, record("2026-10-20", outcome="box_empty", which="daughter")]),
              state="lost", now=[],
              following=[("egg-check", "Wattle", "2026-11-01")],
              hidden=[("egg-check", "Saltbush"), ("egg-check", "Wattle + Saltbush"),
                      ("new-workers", "Wattle + Saltbush")],
              advice=["close_empty_box"], watch="parent"),
        story("eve-of-a-stage", "To close, to move and to open are one item.",
              plan("2026-10-23", [DIVIDED]),
              state="uncertain", now=["stage-1-close", "side-by-side"], following=second_stage,
              hidden=[("stage-1", None), ("stage-1-open", None), ("stage-2", None)],
              checks=[stands_with("stage-1", "stage-1-open"), can_be_said()]),
        story("dawn-of-a-stage", "One word records it; that the box is open is said, not taken for granted.",
              plan("2026-10-24", [DIVIDED]),
              state="uncertain", now=["stage-1"], following=second_stage, hidden=[("stage-1-open", None)],
              checks=[stands_with("stage-1-open"),
                      can_be_said(("Moved and opened", ["stage-1", "stage-1-open"]),
                                  ("Moved, still shut", ["stage-1"]))]),
        story("moved-and-opened", "Nothing is left of the stage.",
              plan("2026-10-24", [DIVIDED, first_move, record("2026-10-24", task="stage-1-open")]),
              state="uncertain", now=[], following=second_stage,
              hidden=[("stage-1-close", None), ("stage-1", None), ("stage-1-open", None)], questions=[]),
        story("moved-still-shut", "The opening stands before all else.",
              plan("2026-10-24", [DIVIDED, first_move]),
              state="uncertain", now=["stage-1-open"], following=second_stage, questions=[], checks=[is_shut]),
        story("shut-since-yesterday", "It is asked for until it is recorded, before the closing of that evening.",
              plan("2026-10-25", [DIVIDED, first_move]),
              state="uncertain", now=["stage-1-open", "stage-2-close"],
              following=[("egg-check", "Wattle + Saltbush", "2026-11-01")], questions=[], checks=[is_shut]),
        story("bees-come-home", "A count at the entrance shows that it is open.",
              plan("2026-10-25", [DIVIDED, first_move,
                                  record("2026-10-24", counts=[{"which": "parent", "counted": {"home": 31}}])]),
              state="uncertain", now=["stage-2-close"],
              following=[("egg-check", "Wattle + Saltbush", "2026-11-01")], hidden=[("stage-1-open", None)]),
        story("silence", "Fifty days without a record: what was due is asked for.",
              plan("2026-11-21", [DIVIDED]),
              state="uncertain", now=[], following=[("stage-1-close", "Wattle", "2026-11-24")],
              hidden=[("pest-day-1", None), ("pest-day-14", None)], questions=["egg-check", "stage-1"],
              advice=["inspect"]),
        story("not-possible", "Tried and put off: no question, and due from the next day.",
              plan("2026-11-01", [*moved, record("2026-11-01", task="egg-check", outcome="not_possible",
                                                 note="storm")]),
              state="uncertain", now=[], following=[("egg-check", "Wattle + Saltbush", "2026-11-02")],
              questions=[]),
        story("a-long-note", "2,000 bytes of umlauts change nothing.",
              plan("2026-10-20", [{**DIVIDED, "note": LONG_NOTE}, males]),
              state="uncertain", now=[],
              following=[("stage-1-close", "Wattle", "2026-10-23"),
                         ("side-by-side", "Wattle + Saltbush", "2026-10-23")],
              advice=["leave_alone"], watch="pair"),
        refused("a-note-too-long", agenda(plan("2026-10-20", [{**DIVIDED, "note": LONG_NOTE + "u"}])),
                "too_large", "plans[0].records[0].note"),
        story("one-record-corrected", "The queen was in the other box.",
              plan("2026-10-17", [DIVIDED, old_queen,
                                  record("2026-10-16", outcome="queen_seen", which="daughter",
                                         corrects="2026-10-16-note")]),
              state="uncertain", now=["pest-day-14"],
              following=[("stage-1-close", "Wattle", "2026-10-23"),
                         ("side-by-side", "Wattle + Saltbush", "2026-10-23")],
              hidden=[("egg-check", "Saltbush")], watch="parent"),
        story("one-record-struck-out", "It counts no more.",
              plan("2026-10-17", [DIVIDED, old_queen, record("2026-10-17", strikes_out="2026-10-16-note")]),
              state="uncertain", now=["pest-day-14"],
              following=[("stage-1-close", "Wattle", "2026-10-23"),
                         ("side-by-side", "Wattle + Saltbush", "2026-10-23")],
              watch="pair"),
        whole("every-field-comes-back", "All that a record can hold, in the plan.",
              {"ask": "review", **plan("2026-10-20", [
                  {**DIVIDED, "id": "a", "outcome": "done", "net_weight_kg": 3.7, "note": "mild",
                   "known": {"season": "good", "last_good": "2027-02-18"}},
                  record("2026-10-20", signs=[sign("fights", "daughter", count=3)],
                         counts=[{"which": "daughter", "counted": {"home": 40, "pollen": 5, "resin": 2},
                                  "neighbour": {"home": 90, "pollen": 30, "resin": 4}}])])}),
        refused("an-outcome-of-no-task", agenda(plan("2026-10-20", [record("2026-10-20", outcome="not_possible")])),
                "inconsistent", "plans[0].records[0].outcome"),
        refused("a-record-that-is-not-there", agenda(plan("2026-10-20", [record("2026-10-20", corrects="b")])),
                "unknown_name", "plans[0].records[0].corrects"),
        whole("three-hives", "Work of all colonies in the order of the days.",
              agenda(plan("2026-10-20", [DIVIDED]), plan("2026-10-20", colony=BUNYA),
                     plan("2026-10-20", colony=GIDGEE))),
        whole("a-wish-in-doubt", "Good by the longest waits, and in time in fewer than half of the years.",
              agenda(plan("2027-02-01", colony=BUNYA, wanted="2027-02-12"))),
        whole("a-wish-at-risk", "A date past the careful limit: what is wrong with it, and the other ways.",
              agenda(plan("2027-02-25", colony=BUNYA, wanted="2027-02-26"))),
        whole("a-wish-too-late", "In time in none of ten years: the next good date, and a plan for it.",
              agenda(plan("2027-02-25", colony=BUNYA, wanted="2027-03-20"))),
        refused("no-plan", agenda(), "not_enough_data", "plans"),
        refused("a-nameless-colony", agenda(plan("2026-10-20", colony={"name": " "})), "out_of_range",
                "plans[0].colony.name"),
        whole("two-places", "Dates of a year without any hive.", year(CURITIBA, SINGAPORE, name="Districts")),
        refused("a-place-twice", year(CURITIBA, CURITIBA), "inconsistent", "places[1].name"),
        refused("no-place", year(), "not_enough_data", "places"),
        refused("two-years-and-more", year(CURITIBA, last="2029-06-01"), "too_large", "last"),
    ]


def year(*places, **fields):
    return {"ask": "year_calendar", "places": list(places), "first": "2027-01-01", "stamp": STAMP, **fields}


write("agenda", "What a keeper needs at a moment, and the dates of a year without any hive.",
      "the engine's own answers; what a story must show and must not is written by hand in make_agenda.py. "
      "All names and records are invented.", 1e-6, 1, rows())
