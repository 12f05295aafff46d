"""Blending and diet programs with published answers; duals are per unit of a row's limit."""

from __future__ import annotations

from reformulate import LinearProgram
from tests.published.programs import INF, Published, minimise

CAT_FOOD = minimise(
    [0.013, 0.008, 0.010, 0.002, 0.005, 0.001],
    [
        [1, 1, 1, 1, 1, 1],  # chicken, beef, mutton, rice, wheat, gel: grams in a 100 g can
        [0.100, 0.200, 0.150, 0, 0.040, 0],  # protein
        [0.080, 0.100, 0.110, 0.010, 0.010, 0],  # fat
        [0.001, 0.005, 0.003, 0.100, 0.150, 0],  # fibre
        [0.002, 0.005, 0.007, 0.002, 0.008, 0],  # salt
    ],
    (100, 100),
    (8, INF),
    (6, INF),
    (-INF, 2),
    (-INF, 0.4),
)

CAT_FOOD_OF_TWO = minimise(
    [0.013, 0.008],
    [[1, 1], [0.100, 0.200], [0.080, 0.100], [0.001, 0.005], [0.002, 0.005]],
    (100, 100),
    (8, INF),
    (6, INF),
    (-INF, 2),
    (-INF, 0.4),
)

FEED_MIX = minimise(
    [30.5, 10, 90],  # cents per kg: corn, limestone, soybean meal
    [[1, 1, 1], [0.001, 0.38, 0.002], [0.09, 0, 0.50], [0.02, 0, 0.08]],
    (1, 1),
    (0.008, 0.012),  # calcium
    (0.22, INF),  # protein
    (-INF, 0.05),  # fibre
)

PET_FEED = minimise(
    [40, 60, 0],
    [[100, 200, 0], [50, 150, 0], [40, 10, 0], [10, 0, 0], [1, 1, 1]],
    (80, INF),
    (50, INF),
    (25, INF),
    (5, INF),
    (1, 1),
)

RATIO_BLEND = minimise(
    [0.3, 0.9],  # corn 9 % protein, 2 % fibre; soybean meal 60 %, 6 %
    [[1, 1], [0.21, -0.30], [0.03, -0.01]],
    (800, INF),
    (-INF, 0),  # protein at least 30 % of the mix
    (0, INF),  # fibre at most 5 %
)

# Pork, wheat, starch of the economy sausage, then of the premium one [kg].
SAUSAGES = minimise(
    [4.32, 2.46, 1.86, 4.32, 2.46, 1.86],
    [
        [1, 1, 1, 0, 0, 0],
        [0, 0, 0, 1, 1, 1],
        [0.6, -0.4, -0.4, 0, 0, 0],
        [0, 0, 0, 0.4, -0.6, -0.6],
        [-0.25, -0.25, 0.75, 0, 0, 0],
        [0, 0, 0, -0.25, -0.25, 0.75],
        [1, 0, 0, 1, 0, 0],
        [0, 1, 0, 0, 1, 0],
        [0, 0, 1, 0, 0, 1],
    ],
    (350 * 0.05, 350 * 0.05),
    (500 * 0.05, 500 * 0.05),
    (0, INF),  # pork at least 40 % of economy
    (0, INF),  # and 60 % of premium
    (-INF, 0),  # starch at most 25 % of each
    (-INF, 0),
    (23, 30),  # pork that must be used, and is in stock
    (-INF, 20),
    (-INF, 17),
)

BOOK_DIET_COST = [3.19, 2.59, 2.29, 2.89, 1.89, 1.99, 1.99, 2.49]
BOOK_DIET_FOODS = ("BEEF", "CHK", "FISH", "HAM", "MCH", "MTL", "SPG", "TUR")
BOOK_DIET: dict[
    str, list[float]
] = {  # a package: percent of the daily need, sodium [mg], energy [kcal]
    "A": [60, 8, 8, 40, 15, 70, 25, 60],
    "C": [20, 0, 10, 40, 35, 30, 50, 20],
    "B1": [10, 20, 15, 35, 15, 15, 25, 15],
    "B2": [15, 20, 10, 10, 15, 15, 15, 10],
    "NA": [938, 2180, 945, 278, 1182, 896, 1329, 1397],  # from memory
    "CAL": [295, 770, 440, 430, 315, 400, 370, 450],  # from memory
}
VITAMINS = ("A", "C", "B1", "B2")
DIET_2_LIMITS = dict.fromkeys(VITAMINS, (700.0, 20000.0)) | {
    "NA": (-INF, 40000.0),
    "CAL": (16000.0, 24000.0),
}
BOOK_DIET_BASE = minimise(
    BOOK_DIET_COST,
    [BOOK_DIET[v] for v in VITAMINS],
    *[(700, 10000)] * 4,
    column_upper=100,
)


def book_diet_2(sodium: float) -> LinearProgram:
    """The second book diet: rows A, C, B1, B2, NA, CAL; 2 to 10 packages of each food."""
    limits = DIET_2_LIMITS | {"NA": (-INF, sodium)}
    return minimise(
        BOOK_DIET_COST,
        list(BOOK_DIET.values()),
        *limits.values(),
        column_lower=2,
        column_upper=10,
    )


MANUAL_DIET = minimise(
    [2, 3.5, 8, 1.5, 11, 1],  # bread, milk, cheese, potato, fish, yogurt
    [
        [90, 120, 106, 97, 130, 180],  # kcal
        [4, 8, 7, 1.3, 8, 9.2],  # protein
        [15, 11.7, 0.4, 22.6, 0, 17],  # carbohydrate
        [1, 5, 9, 0.1, 7, 1],  # fat
    ],
    (300, INF),
    (-INF, 10),
    (10, INF),
    (8, INF),
    column_lower=[0, 0, 0, 0, 0.5, 0],
    column_upper=[INF, 1, INF, INF, INF, INF],
)

LIBRARY_DIET = minimise(
    [3, 24, 13, 9, 20, 19],  # oatmeal, chicken, eggs, milk, pie, bacon
    [[110, 205, 160, 160, 420, 260], [4, 32, 13, 8, 4, 14], [2, 12, 54, 285, 22, 80]],
    (2000, INF),
    (55, INF),
    (800, INF),
    column_upper=[4, 3, 2, 8, 2, 2],
)

SOLVER_DIET_COST = [2.49, 2.89, 1.50, 1.89, 2.09, 1.99, 2.49, 0.89, 1.59]
# Hamburger, chicken, hot dog, fries, macaroni, pizza, salad, milk, ice cream.
SOLVER_DIET: dict[str, tuple[list[float], tuple[float, float]]] = {
    "energy": ([410, 420, 560, 380, 320, 320, 320, 100, 330], (1800, 2200)),
    "protein": ([24, 32, 20, 4, 12, 15, 31, 8, 8], (91, INF)),
    "fat": ([26, 10, 32, 19, 10, 12, 12, 2.5, 10], (-INF, 65)),
    "sodium": ([730, 1190, 1800, 270, 930, 820, 1230, 125, 180], (-INF, 1779)),
}
DAIRY = [0, 0, 0, 0, 0, 0, 0, 1, 1]

WINSTON_DIET = minimise(
    [50, 20, 30, 80],
    [[400, 200, 150, 500], [3, 2, 0, 0], [2, 2, 4, 4], [2, 4, 1, 5]],
    (500, INF),
    (6, INF),
    (10, INF),
    (8, INF),
)

BLENDS_AND_DIETS = (
    Published(
        name="cat food blend",
        source="documentation of PuLP, cat food blending case",
        data="read",
        answer="from memory",
        program=CAT_FOOD,
        objective=0.52,
        x=(0, 60, 0, 0, 0, 40),
        duals=(0.001, 0, 0.07, 0, 0),
        reduced=(0.0064, 0, 0.0013, 0.0003, 0.0033, 0),
    ),
    Published(
        name="cat food blend of two",
        source="documentation of PuLP, simplified cat food blending case",
        data="read",
        answer="from memory",
        program=CAT_FOOD_OF_TWO,
        objective=0.9666667,
        x=(33.3333333, 66.6666667),
        digits=1e-7,
        dual_within=5e-5,
        known_duals={4: -1.6667},
    ),
    Published(
        name="feed mix",
        source="textbook on optimisation with PuLP; limits from memory",
        data="read",
        answer="read",
        program=FEED_MIX,
        objective=49.15629,
        x=(0.648572, 0.028171, 0.323257),
        digits=1e-7,
        x_within=6e-7,
    ),
    Published(
        name="pet feed blend",
        source="manual of the R package limSolve",
        data="read",
        answer="read",
        program=PET_FEED,
        objective=31.81818,
        x=(0.5909, 0.1364, 0.2727),
        duals=(0, 0.363636, 0.545455, 0, 0),
        digits=1e-7,
        x_within=6e-5,
    ),
    Published(
        name="ratio blend",
        source="Taha, Operations Research: Ozark Farms",
        data="from memory",
        answer="from memory",
        program=RATIO_BLEND,
        objective=437.6471,
        x=(470.588, 329.412),
        digits=1e-7,
        x_within=6e-4,
        known_duals={0: 0.547059},
    ),
    Published(
        name="sausages",
        source="community tutorial on PuLP",
        data="read",
        answer="from memory",
        program=SAUSAGES,
        objective=140.955,
    ),
    Published(
        name="book diet",
        source="Fourer, Gay, Kernighan: AMPL, chapter 2, diet.mod",
        data="read",
        answer="from memory",
        program=BOOK_DIET_BASE,
        objective=88.2,
        x=(0, 0, 0, 0, 46.6666667, 0, 0, 0),
    ),
    Published(
        name="book diet 2 with 50 g sodium",
        source="Fourer, Gay, Kernighan: AMPL, chapter 2, diet2a.dat",
        data="from memory",
        answer="from memory",
        program=book_diet_2(50000),
        objective=118.0594032,
        x=(5.360614, 2, 2, 10, 10, 10, 9.306053, 2),
        duals=(0, 0, 0, 0.404585, -0.003069, 0),
        digits=1e-8,
    ),
    Published(
        name="statistics manual diet",
        source="manual of a statistics package, diet example of its LP solver",
        data="read",
        answer="read",
        program=MANUAL_DIET,
        objective=12.081337881,
        x=(0, 0.053599, 0.449499, 1.865168, 0.5, 0),
        duals=(0.021788, -0.553599, 0, 1.062857),
        digits=1e-9,
    ),
    Published(
        name="library diet, continuous",
        source="example of a numerical library's MILP solver, LP part (its integer answer is 97)",
        data="read",
        answer="constructed",
        program=LIBRARY_DIET,
        objective=92.5,
        x=(4, 0, 0, 4.5, 2, 0),
    ),
    Published(
        name="solver diet",
        source="diet example of a commercial solver",
        data="read",
        answer="from memory",
        program=minimise(
            SOLVER_DIET_COST,
            [row for row, _ in SOLVER_DIET.values()],
            *(limits for _, limits in SOLVER_DIET.values()),
        ),
        objective=11.8288611,
        x=(0.604514, 0, 0, 0, 0, 0, 0, 6.970139, 2.591319),
    ),
    Published(
        name="Winston diet",
        source="Winston, Operations Research: diet problem",
        data="from memory",
        answer="from memory",
        program=WINSTON_DIET,
        objective=90,
        x=(0, 3, 1, 0),
        duals=(0, 2.5, 7.5, 0),
        reduced=(27.5, 0, 0, 50),
    ),
)
