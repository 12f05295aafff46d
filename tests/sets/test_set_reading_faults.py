"""Reading: in which words the faults of a recipe and its brief are told."""

import pytest

from tests.sets.set_documents import DIP, HEAD

ROLES = "base, flavouring, fat, acid, sweetener, salt, body, liquid, inclusion, garnish"
TWO_HOLDS = '[[brief.hold]]\nkind = "line"\nline = "sour-cream"\ntolerance = 0.0\n' * 2


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        pytest.param(
            HEAD + "[[line]]\ngrams = 3\n",
            ['dip.toml, line 1, food: is missing, expected text. Write it as in food = "...".'],
            id="missing food",
        ),
        pytest.param(
            HEAD + '[[line]]\nfood = " "\ngrams = 3\n',
            [
                "dip.toml, line 1, food: is empty, expected the key of a food. "
                "Write the key of a food in the table, or 'ndb:' and a number."
            ],
            id="empty food",
        ),
        pytest.param(
            DIP.replace("servings", "servngs"),
            ["dip.toml, servings: is missing, expected a number. Did you mean it by 'servngs'?"],
            id="misspelt servings",
        ),
        pytest.param(
            DIP.replace('"body"', '"boddy"'),
            [
                f"dip.toml, line 2 (sour-cream), role: found 'boddy'. Expected one of: {ROLES}.",
            ],
            id="unknown role",
        ),
        pytest.param(
            DIP.replace("servings = 8", "servings = 0"),
            [
                "dip.toml, servings: found 0, expected a number above 0. "
                "Write how many the batch serves."
            ],
            id="zero servings",
        ),
        pytest.param(
            HEAD,
            ["dip.toml, line: the recipe has no lines. Add at least one [[line]]."],
            id="empty recipe",
        ),
        *(
            pytest.param(
                DIP.replace("grams = 320", f"grams = {written}"),
                [
                    f"dip.toml, line 1 (onion-yellow), grams: found {found}, "
                    "expected more than 0 and at most 1000000. Write the mass in grams."
                ],
                id=f"grams {written}",
            )
            for written, found in [("nan", "nan"), ("-3", "-3"), ("inf", "inf"), ("0", "0")]
        ),
        pytest.param(
            DIP.replace("grams = 320", "gram = 320"),
            [
                "dip.toml, line 1 (onion-yellow): expected exactly one of amount and grams. "
                "Write one of the two.",
                "dip.toml, line 1, gram: is not read. Did you mean 'grams'?",
            ],
            id="misspelt grams",
        ),
        pytest.param(
            DIP.replace("= 320", '= "320"').replace('"2 cups"', "2").replace("= 8", "= true"),
            [
                "dip.toml, servings: found true, expected a number. Write it as in servings = 1.5.",
                "dip.toml, line 1, grams: found the text '320', expected a number. "
                "Write it as in grams = 1.5.",
                "dip.toml, line 2, amount: found the number 2, expected text. "
                'Write it as in amount = "...".',
            ],
            id="wrong types",
        ),
        pytest.param(
            DIP.replace("= 8", '= 8\nsteps = "Fry."\nserve_with = ["a", 2]')
            + "as_bought = 2020-01-01\nretention = 1.5\n",
            [
                "dip.toml, steps: found the text 'Fry.', expected a list of texts. "
                'Write steps = ["...", "..."].',
                "dip.toml, serve_with 2: found the number 2, expected text. "
                "Write text in quotation marks.",
                "dip.toml, line 2, retention: found the number 1.5, expected a whole number. "
                "Write it as in retention = 1.",
                "dip.toml, line 2, as_bought: found a date or time, expected true or false. "
                "Write it as in as_bought = true.",
            ],
            id="wrong types of lists and words",
        ),
        pytest.param(
            HEAD + "line = 3\nbrief = []\n",
            [
                "dip.toml, line: found the number 3, expected tables. "
                "Begin each with a row [[line]].",
                "dip.toml, brief: found a list, expected a table. Write key = value rows.",
            ],
            id="wrong tables",
        ),
        pytest.param(
            DIP + '[brief]\nshown_per = "servng"\n[brief.goal]\nnutrient = "fat_g"\n'
            '[[brief.hold]]\nkind = "lin"\n[[brief.hold]]\n',
            [
                "dip.toml, brief, shown_per: found the text 'servng', expected one of: "
                "serving, 100g, energy, original. Did you mean 'serving'?",
                "dip.toml, brief, goal: found a table, expected tables. "
                "Begin each with a row [[brief.goal]].",
                "dip.toml, brief, hold 1, kind: found the text 'lin', expected one of: "
                "ratio, batch, line, role, character. Did you mean 'line'?",
                "dip.toml, brief, hold 2, kind: is missing, expected one of: "
                "ratio, batch, line, role, character. Write one of them.",
            ],
            id="wrong types in the brief",
        ),
        pytest.param(
            DIP + '[[brief.hold]]\nkind = "line"\nline = "sour-cream"\nleast = 9\nmost = 3\n',
            [
                "dip.toml, brief, hold 1 on sour-cream: asks for at least 9 g and at most 3 g. "
                "Lower the one or raise the other."
            ],
            id="least above most",
        ),
        pytest.param(
            DIP + '[[brief.hold]]\nkind = "ratio"\nof = ["role:body"]\nto = ["sour-cream"]\n',
            [
                "dip.toml, brief, hold 1: holds 'sour-cream' against itself. "
                "Leave each line on one side of the ratio."
            ],
            id="a group against itself",
        ),
        pytest.param(
            DIP + TWO_HOLDS,
            ["dip.toml, brief, hold 2: holds what another hold holds. Keep one of them."],
            id="doubled holds",
        ),
        pytest.param(
            DIP.replace("= 8", "= -1")
            + 'id = "role:x"\n[[brief.goal]]\nnutrient = "fat_g"\nat_least = 5\nat_most = 3\n',
            [
                "dip.toml, line 2, id: found 'role:x'. "
                "Expected a name that does not begin with 'role:'.",
                "dip.toml, servings: found -1, expected a number above 0. "
                "Write how many the batch serves.",
                "dip.toml, brief, goal on fat_g: asks for at least 5 and at most 3. "
                "Lower the one or raise the other.",
            ],
            id="faults of recipe and brief together",
        ),
    ],
)
def test_each_fault_is_told_with_file_and_key_and_what_to_do(faults, text, expected):
    assert faults(text) == expected
