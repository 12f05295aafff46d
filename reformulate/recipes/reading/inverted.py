"""Names written as in an index, the kind behind the food: vinegar, balsamic."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from reformulate.recipes.reading.describing_words import aspect_of
from reformulate.recipes.reading.food import FoodWords, food_words
from reformulate.recipes.reading.food_names import KEPT_PHRASES
from reformulate.recipes.reading.scan import Sort, Token
from reformulate.recipes.reading.segments import Segment
from reformulate.recipes.reading.word_sets import word_set

_KINDS_OF: Final = {
    "bean beans": "kidney black pinto cannellini navy butter lima borlotti haricot broad fava green "
    "red white great northern garbanzo mung runner soy",
    "bread": "rye sourdough pita pitta white brown wholemeal french italian",
    "butter": "peanut almond cashew apple cocoa",
    "cheese": "cheddar cottage cream parmesan feta goat goat's goats' swiss blue mozzarella ricotta "
    "gouda monterey jack colby brie stilton gruyere gruyère asiago romano",
    "chips crisps": "tortilla potato corn pita chocolate banana",
    "crackers": "water graham saltine rye oyster",
    "cream": "sour soured double single heavy light whipping clotted thickened coconut",
    "flour": "plain all-purpose all purpose bread cake pastry self-raising self-rising self raising "
    "rising rye rice almond wholemeal spelt coconut corn gram wheat strong",
    "juice": "lemon lime orange tomato apple pineapple cranberry grapefruit clam",
    "lettuce": "romaine iceberg cos bibb butter little gem",
    "milk": "coconut almond oat soy soya rice condensed evaporated goat's butter",
    "mustard": "dijon english wholegrain whole-grain grainy french",
    "nuts": "pine brazil macadamia mixed",
    "oil": "olive sesame vegetable canola sunflower rapeseed peanut groundnut coconut corn avocado "
    "walnut safflower grapeseed virgin extra",
    "olive olives": "kalamata niçoise nicoise manzanilla black green",
    "onion onions": "spring salad pearl vidalia bermuda spanish",
    "paste": "tomato curry tahini almond anchovy harissa miso",
    "pepper peppers": "bell chili chilli chile jalapeno jalapeño cayenne banana serrano lemon red "
    "green yellow sweet",
    "potato potatoes": "russet idaho yukon gold new maris piper king edward",
    "powder": "garlic onion chili chilli baking mustard curry cocoa five spice",
    "rice": "basmati arborio jasmine wild brown white",
    "salt": "sea kosher table rock himalayan",
    "sauce": "soy tomato worcestershire hot chili chilli fish oyster tartare tartar hoisin "
    "horseradish barbecue bbq pasta pizza cranberry apple",
    "seed seeds": "sesame poppy sunflower pumpkin caraway cumin fennel mustard chia celery coriander flax",
    "soda": "baking club",
    "squash": "butternut acorn summer spaghetti delicata",
    "stock broth": "chicken beef vegetable fish veal turkey mushroom bone",
    "sugar": "caster castor icing demerara muscovado confectioners' confectioner's coconut palm cane",
    "syrup": "maple corn golden agave simple rice",
    "tomato tomatoes": "cherry plum roma grape sun-dried vine beefsteak",
    "vinegar": "balsamic apple cider malt red white wine rice sherry champagne",
    "yogurt yoghurt": "greek natural plain vanilla",
}
_KINDS: Final = {
    head: word_set(kinds) for heads, kinds in _KINDS_OF.items() for head in heads.split()
}
"""By the word that names a food, the words before it that say which kind is meant."""
_LONGEST: Final = 3


def with_kind_behind(
    words: FoodWords, following: Sequence[Segment], *, has_amount: bool
) -> FoodWords | None:
    """Return the food with the kind that the next segment gives it; None where that says other things.

    Parameters
    ----------
    words : FoodWords
        The food as it stands before the comma or the bracket.
    following : sequence of Segment
        What follows, in order.
    has_amount : bool
        Whether the line states an amount; where it does not, "butter, peanut, salt" is a list.
    """
    if len(words.names) != 1 or len(words.names[0]) != 1 or not following:
        return None
    head, kind = words.names[0][0], _kind_in(following[0])
    if not kind or not all(word.low in _KINDS.get(head.low, ()) for word in kind):
        return None
    if not has_amount and any(_names_more(piece) for piece in following[1:]):
        return None
    kept = (*(word.low for word in kind), head.low) in KEPT_PHRASES
    naming = tuple(word for word in kind if kept or aspect_of(word.low) is None)
    if not naming:
        # "onion, red": a colour stays a description, wherever it stands.
        return None
    beside = tuple(word for word in words.match if word is not head)
    return replace(words, names=((*naming, head),), match=(*beside, *kind, head))


def _kind_in(piece: Segment) -> tuple[Token, ...]:
    if piece.opener not in {",", "("} or piece.amount is not None or piece.in_remark:
        return ()
    if not 0 < len(piece.tokens) <= _LONGEST:
        return ()
    return tuple(piece.tokens) if all(t.sort is Sort.WORD for t in piece.tokens) else ()


def _names_more(piece: Segment) -> bool:
    return piece.opener == "," and not piece.bracketed and bool(food_words(piece.tokens).names)
