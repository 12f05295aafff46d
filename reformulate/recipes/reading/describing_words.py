"""Words beside the food in a line: what was done to it, its colour, size, taste, state and part.

The food itself is what is left: "2 cups freshly shredded mild cheddar cheese" is about cheddar
cheese. Some of these words say which food of a table is meant (dried, canned, low-fat); they are
kept for matching, where sweet potatoes are not potatoes.
"""

from __future__ import annotations

from enum import Enum
from functools import lru_cache
from typing import Final

from reformulate.recipes.reading.food_names import NAMED_FOR_PLACES
from reformulate.recipes.reading.word_sets import word_set


class Aspect(Enum):
    """What a describing word is about."""

    DONE = "done to it"
    """Preparation: chopped, melted, finely."""
    FORM = "form"
    """How it is sold or stands in a table: dried, canned, ground, low-fat, cooked."""
    COLOUR = "colour"
    TASTE = "taste"
    SIZE = "size"
    PART = "part"
    """Part of a plant or an animal: breast, yolk."""
    PRAISE = "praise"
    """Says nothing that weighs: good, favourite."""


_DONE: Final = word_set("""
    boiling chiffonade cold cut day-old hot iced julienne leftover lukewarm overnight simmering split
    torn unbaked unbeaten uncracked uncut undrained unopened unpeeled unrolled unsifted unthawed warm
    coarse crisp fine runny shaven soft stiff fork-tender bite-size room-temperature
    homemade home-made precooked pre-cooked ready-made ready-to-eat ready-to-use store-bought
    crosswise diagonally lengthwise just quite then very well heaped heaping rounded scant
""")
_FORM: Final = word_set("""
    fresh frozen canned tinned jarred bottled dried dry instant raw cooked uncooked prepared smoked
    roasted toasted ground powdered granulated superfine pickled whipped condensed refrigerated cured
    uncured pasteurized deveined flavored unflavored unseasoned unbleached bleached enriched
    fire-roasted oven-roasted dry-roasted freeze-dried oil-packed water-packed stone-ground
    hard-boiled hard-cooked soft-boiled quick quick-cooking regular old-fashioned
    whole part boneless skinless seedless stoneless pitted bone-in skin-on shell-on tail-on tails-on
    head-on thick-cut thin-cut center-cut long-grain medium-grain short-grain
    salted unsalted sweetened unsweetened semisweet semi-sweet bittersweet
    heavy lean extra-lean light lite skim skimmed semi-skimmed part-skim full-fat lowfat low-fat
    nonfat non-fat fatfree low-sodium lower-sodium less-sodium low-salt no-salt low-calorie low-carb
    low-moisture virgin extra-virgin strong chunky creamy crunchy crispy smooth
    deli cage-free free-range grass-fed wild-caught all-natural light-colored double-stuffed
    seasoned spiced marinated battered sprouted fermented fortified infused flaky firm
""")
_COLOUR: Final = word_set("""
    white red green brown black yellow golden gold purple pink silver blue blond blonde dark pale clear
    colored coloured multicolored multi-colored tricolor tri-color
""")
_TASTE: Final = word_set("""
    sweet spicy hot mild sharp extra-sharp tart tangy bitter zesty fruity aromatic fragrant pungent
    flavorful mild-flavored
""")
_SIZE: Final = word_set("""
    count ct large medium small mini miniature big jumbo extra-large extra tiny giant huge little thick thin
    long short wide narrow average skinny fat xl lg med sm medium-large medium-small inch-thick
""")
_PART: Final = word_set("""
    breast breasts thigh thighs drumstick drumsticks leg legs wing wings tenderloin tenderloins cutlet
    cutlets yolk yolks whites heart hearts stem stems core cores tip tips top tops bottoms
    half halves piece pieces chunk chunks cube cubes strip strips slice slices slivers round rounds
    sprig sprigs stalk stalks head heads clove cloves wedge wedges rib spear spears
""")
_PRAISE: Final = word_set("""
    good best better nice real pure natural organic ripe overripe over-ripe very-ripe firm-ripe tender
    young mature perfect perfectly premium prime-quality choice finest fancy gourmet authentic
    heirloom weight local favorite favourite quality good-quality high-quality top-quality loose brand
    basic but either both a an the of my our your such any some each other another assorted desired
    preferred additional more plus few about approximately nearly optional fresh-cracked fresh-grated
    fresh-ground fresh-squeezed in-season
""")
_ASPECTS: Final[dict[str, Aspect]] = {
    word: aspect
    for aspect, words in (
        (Aspect.DONE, _DONE),
        (Aspect.FORM, _FORM),
        (Aspect.COLOUR, _COLOUR),
        (Aspect.TASTE, _TASTE),
        (Aspect.SIZE, _SIZE),
        (Aspect.PART, _PART),
        (Aspect.PRAISE, _PRAISE),
    )
    for word in words
}

# Foods, and words of their names, that end as describing words do.
_FOODS: Final = word_set("""
    aniseed bread breaded breed cornbread dillweed feed flatbread flaxseed gingerbread grapeseed
    linseed mead mustardseed poppyseed rapeseed seaweed seed sesameseed shortbread sweetbread weed
    aged candied coated creamed deviled devilled evaporated filled flavoured layered mixed refried
    rolled strained stuffed sundried sun-dried textured multi-seed
    corned barley belly curly family holly jelly lily parsley
""")
_FORM_ENDINGS: Final = ("-free", "-style", "-less", "-cut", "-added", "-fat", "-sodium", "-bought")
_SIZE_ENDINGS: Final = ("-size", "-sized")
_HOW_MUCH: Final = word_set("low reduced less lower no non full free extra")
_OF_WHAT: Final = word_set("fat sodium salt sugar calorie calories carb gluten dairy moisture")
_TOGETHER: Final = {
    first: word_set(seconds)
    for firsts, seconds in (
        ("hard soft", "boiled cooked"),
        ("oven fire flame dry pan char", "roasted grilled toasted fried"),
        ("oven air freeze", "dried"),
        ("hot cold", "smoked pressed"),
        ("long medium short", "grain"),
        ("bone", "in"),
        ("skin rind shell tail tails head vine", "on"),
        ("thick thin center centre", "cut"),
        ("grass corn grain", "fed"),
        ("oil water", "packed"),
        ("store shop", "bought"),
        ("home ready", "made"),
        ("free", "range"),
        ("wild", "caught"),
        ("old", "fashioned"),
        ("quick", "cooking"),
        ("stone", "ground"),
        ("semi", "skimmed sweet"),
        ("part", "skim skimmed"),
    )
    for first in firsts.split()
}
"""Words that describe a food only together with the next: hard boiled, bone in."""
_SHORTEST_ED: Final = 5
_SHORTEST_LY: Final = 5


@lru_cache(maxsize=8192)
def aspect_of(word: str) -> Aspect | None:
    """Return what ``word`` (lower case) says beside the food; None where it names food.

    Examples
    --------
    >>> aspect_of("chopped"), aspect_of("canned"), aspect_of("flaxseed")
    (<Aspect.DONE: 'done to it'>, <Aspect.FORM: 'form'>, None)
    """
    found = _ASPECTS.get(word)
    if found is not None or word in _FOODS:
        return found
    if word.endswith("-ish"):
        return aspect_of(word.removesuffix("-ish"))
    if word.endswith(_SIZE_ENDINGS):
        return Aspect.SIZE
    first, _, last = word.rpartition("-")
    if word.endswith(_FORM_ENDINGS):
        # A yogurt of a country's style is called so.
        return None if last == "style" and first in NAMED_FOR_PLACES else Aspect.FORM
    done = len(word) >= _SHORTEST_ED and last.endswith("ed") and last not in _FOODS
    if done or (len(word) >= _SHORTEST_LY and word.endswith("ly")):
        return Aspect.DONE
    return None


def describes_together(first: str, second: str) -> bool:
    """Whether two words describe a food together: low sodium, fat free, day old.

    Examples
    --------
    >>> describes_together("reduced", "fat"), describes_together("sugar", "free")
    (True, True)
    """
    if second == "old":
        return first in {"day", "days", "week", "weeks"}
    how_much = first in _HOW_MUCH and second in _OF_WHAT
    without = first in _OF_WHAT and second in {"free", "reduced"}
    return how_much or without or second in _TOGETHER.get(first, ())
