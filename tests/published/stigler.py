"""The diet of 77 foods and 9 nutrients, prices of August 1939.

Data: G. J. Stigler, The cost of subsistence, Journal of Farm Economics 27 (1945), read in the sample
file of a solver library. Answer: 39.66 dollars a year (modern solvers; from memory).
A row is a food, and what a dollar's worth of it holds.
"""

from __future__ import annotations

import numpy as np

from reformulate import LinearProgram, linear_program

NEEDS = {  # a day
    "energy [1000 kcal]": 3.0,
    "protein [g]": 70.0,
    "calcium [g]": 0.8,
    "iron [mg]": 12.0,
    "vitamin A [1000 IU]": 5.0,
    "thiamin [mg]": 1.8,
    "riboflavin [mg]": 2.7,
    "niacin [mg]": 18.0,
    "vitamin C [mg]": 75.0,
}

PER_DOLLAR = {
    "wheat flour (enriched)": (44.7, 1411, 2, 365, 0, 55.4, 33.3, 441, 0),
    "macaroni": (11.6, 418, 0.7, 54, 0, 3.2, 1.9, 68, 0),
    "wheat cereal (enriched)": (11.8, 377, 14.4, 175, 0, 14.4, 8.8, 114, 0),
    "corn flakes": (11.4, 252, 0.1, 56, 0, 13.5, 2.3, 68, 0),
    "corn meal": (36, 897, 1.7, 99, 30.9, 17.4, 7.9, 106, 0),
    "hominy grits": (28.6, 680, 0.8, 80, 0, 10.6, 1.6, 110, 0),
    "rice": (21.2, 460, 0.6, 41, 0, 2, 4.8, 60, 0),
    "rolled oats": (25.3, 907, 5.1, 341, 0, 37.1, 8.9, 64, 0),
    "white bread (enriched)": (15, 488, 2.5, 115, 0, 13.8, 8.5, 126, 0),
    "whole wheat bread": (12.2, 484, 2.7, 125, 0, 13.9, 6.4, 160, 0),
    "rye bread": (12.4, 439, 1.1, 82, 0, 9.9, 3, 66, 0),
    "pound cake": (8, 130, 0.4, 31, 18.9, 2.8, 3, 17, 0),
    "soda crackers": (12.5, 288, 0.5, 50, 0, 0, 0, 0, 0),
    "milk": (6.1, 310, 10.5, 18, 16.8, 4, 16, 7, 177),
    "evaporated milk (can)": (8.4, 422, 15.1, 9, 26, 3, 23.5, 11, 60),
    "butter": (10.8, 9, 0.2, 3, 44.2, 0, 0.2, 2, 0),
    "oleomargarine": (20.6, 17, 0.6, 6, 55.8, 0.2, 0, 0, 0),
    "eggs": (2.9, 238, 1, 52, 18.6, 2.8, 6.5, 1, 0),
    "cheese (cheddar)": (7.4, 448, 16.4, 19, 28.1, 0.8, 10.3, 4, 0),
    "cream": (3.5, 49, 1.7, 3, 16.9, 0.6, 2.5, 0, 17),
    "peanut butter": (15.7, 661, 1, 48, 0, 9.6, 8.1, 471, 0),
    "mayonnaise": (8.6, 18, 0.2, 8, 2.7, 0.4, 0.5, 0, 0),
    "vegetable shortening": (20.1, 0, 0, 0, 0, 0, 0, 0, 0),
    "lard": (41.7, 0, 0, 0, 0.2, 0, 0.5, 5, 0),
    "sirloin steak": (2.9, 166, 0.1, 34, 0.2, 2.1, 2.9, 69, 0),
    "round steak": (2.2, 214, 0.1, 32, 0.4, 2.5, 2.4, 87, 0),
    "rib roast": (3.4, 213, 0.1, 33, 0, 0, 2, 0, 0),
    "chuck roast": (3.6, 309, 0.2, 46, 0.4, 1, 4, 120, 0),
    "plate": (8.5, 404, 0.2, 62, 0, 0.9, 0, 0, 0),
    "liver (beef)": (2.2, 333, 0.2, 139, 169.2, 6.4, 50.8, 316, 525),
    "leg of lamb": (3.1, 245, 0.1, 20, 0, 2.8, 3.9, 86, 0),
    "lamb chops (rib)": (3.3, 140, 0.1, 15, 0, 1.7, 2.7, 54, 0),
    "pork chops": (3.5, 196, 0.2, 30, 0, 17.4, 2.7, 60, 0),
    "pork loin roast": (4.4, 249, 0.3, 37, 0, 18.2, 3.6, 79, 0),
    "bacon": (10.4, 152, 0.2, 23, 0, 1.8, 1.8, 71, 0),
    "ham, smoked": (6.7, 212, 0.2, 31, 0, 9.9, 3.3, 50, 0),
    "salt pork": (18.8, 164, 0.1, 26, 0, 1.4, 1.8, 0, 0),
    "roasting chicken": (1.8, 184, 0.1, 30, 0.1, 0.9, 1.8, 68, 46),
    "veal cutlets": (1.7, 156, 0.1, 24, 0, 1.4, 2.4, 57, 0),
    "salmon, pink (can)": (5.8, 705, 6.8, 45, 3.5, 1, 4.9, 209, 0),
    "apples": (5.8, 27, 0.5, 36, 7.3, 3.6, 2.7, 5, 544),
    "bananas": (4.9, 60, 0.4, 30, 17.4, 2.5, 3.5, 28, 498),
    "lemons": (1, 21, 0.5, 14, 0, 0.5, 0, 4, 952),
    "oranges": (2.2, 40, 1.1, 18, 11.1, 3.6, 1.3, 10, 1998),
    "green beans": (2.4, 138, 3.7, 80, 69, 4.3, 5.8, 37, 862),
    "cabbage": (2.6, 125, 4, 36, 7.2, 9, 4.5, 26, 5369),
    "carrots": (2.7, 73, 2.8, 43, 188.5, 6.1, 4.3, 89, 608),
    "celery": (0.9, 51, 3, 23, 0.9, 1.4, 1.4, 9, 313),
    "lettuce": (0.4, 27, 1.1, 22, 112.4, 1.8, 3.4, 11, 449),
    "onions": (5.8, 166, 3.8, 59, 16.6, 4.7, 5.9, 21, 1184),
    "potatoes": (14.3, 336, 1.8, 118, 6.7, 29.4, 7.1, 198, 2522),
    "spinach": (1.1, 106, 0, 138, 918.4, 5.7, 13.8, 33, 2755),
    "sweet potatoes": (9.6, 138, 2.7, 54, 290.7, 8.4, 5.4, 83, 1912),
    "peaches (can)": (3.7, 20, 0.4, 10, 21.5, 0.5, 1, 31, 196),
    "pears (can)": (3, 8, 0.3, 8, 0.8, 0.8, 0.8, 5, 81),
    "pineapple (can)": (2.4, 16, 0.4, 8, 2, 2.8, 0.8, 7, 399),
    "asparagus (can)": (0.4, 33, 0.3, 12, 16.3, 1.4, 2.1, 17, 272),
    "green beans (can)": (1, 54, 2, 65, 53.9, 1.6, 4.3, 32, 431),
    "pork and beans (can)": (7.5, 364, 4, 134, 3.5, 8.3, 7.7, 56, 0),
    "corn (can)": (5.2, 136, 0.2, 16, 12, 1.6, 2.7, 42, 218),
    "peas (can)": (2.3, 136, 0.6, 45, 34.9, 4.9, 2.5, 37, 370),
    "tomatoes (can)": (1.3, 63, 0.7, 38, 53.2, 3.4, 2.5, 36, 1253),
    "tomato soup (can)": (1.6, 71, 0.6, 43, 57.9, 3.5, 2.4, 67, 862),
    "peaches, dried": (8.5, 87, 1.7, 173, 86.8, 1.2, 4.3, 55, 57),
    "prunes, dried": (12.8, 99, 2.5, 154, 85.7, 3.9, 4.3, 65, 257),
    "raisins, dried": (13.5, 104, 2.5, 136, 4.5, 6.3, 1.4, 24, 136),
    "peas, dried": (20, 1367, 4.2, 345, 2.9, 28.7, 18.4, 162, 0),
    "lima beans, dried": (17.4, 1055, 3.7, 459, 5.1, 26.9, 38.2, 93, 0),
    "navy beans, dried": (26.9, 1691, 11.4, 792, 0, 38.4, 24.6, 217, 0),
    "coffee": (0, 0, 0, 0, 0, 4, 5.1, 50, 0),
    "tea": (0, 0, 0, 0, 0, 0, 2.3, 42, 0),
    "cocoa": (8.7, 237, 3, 72, 0, 2, 11.9, 40, 0),
    "chocolate": (8, 77, 1.3, 39, 0, 0.9, 3.4, 14, 0),
    "sugar": (34.9, 0, 0, 0, 0, 0, 0, 0, 0),
    "corn syrup": (14.7, 0, 0.5, 74, 0, 0, 0, 5, 0),
    "molasses": (9, 0, 10.3, 244, 0, 1.9, 7.5, 146, 0),
    "strawberry preserves": (6.4, 11, 0.4, 7, 0.2, 0.2, 0.4, 3, 0),
}


def stigler() -> LinearProgram:
    """Dollars a day spent on each food, at least cost."""
    amounts = np.array(list(PER_DOLLAR.values()), dtype=float).T
    return linear_program(
        [1.0] * len(PER_DOLLAR),
        amounts,
        list(NEEDS.values()),
        np.inf,
        columns=tuple(PER_DOLLAR),
        rows=tuple(NEEDS),
    )
