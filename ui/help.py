"""What the window says about itself."""

from __future__ import annotations

from typing import Final

CAUTIONS: Final = (
    "Figures are computed from a table of foods; the food in your kitchen differs. A total marked "
    "“at least” has a food in it whose figure is not known.\n\n"
    "Swaps can bring in allergens (milk, egg, nuts, sesame, soy, wheat, fish, shellfish, mustard): "
    "read the packs, and tell your guests.\n\n"
    "Less salt, acid or sugar can make a food less safe to keep. Follow your local food-safety "
    "authority on chilling, hot-holding and keeping times, and for canned, fermented or "
    "garlic-in-oil foods use tested procedures only.\n\n"
    "Nothing here is dietary, medical or legal advice, and no nutrition claim is confirmed here; "
    "for those ask a licensed professional and your local code."
)

ABOUT: Final = (
    "Reformulate finds amounts for lighter versions of well-loved dips and spreads.\n\n"
    "Food figures: U.S. Department of Agriculture, National Nutrient Database for Standard "
    "Reference, release 28; Table of Nutrient Retention Factors, release 6. Both are in the public "
    "domain.\n\n"
    "Licence: MIT. The demo set, its people and its recipes are invented."
)

PREDICTORS: Final = (
    "What these figures are: sums over the ingredients per 100 g of finished food, of salt, of sugars by "
    "how sweet they are, of acid, of free glutamate, of garlic and chilli in garlic’s strength, of fat, "
    "water and other solids. What they are not: flavour. Salt, acid and glutamate change each other, "
    "cold dulls, cooking mellows, and what is in pieces tastes otherwise than what is blended in. They "
    "say where to taste first. “Weaker evidence” rests on figures from memory."
)
