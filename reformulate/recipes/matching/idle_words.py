"""Words that say nothing about which food is meant: how it is cut, its size, its praise.

They never stand in the way of a match; where a food's own name has one ("Cucumber, peeled",
"Peanut butter, smooth"), it helps to tell that food from its neighbours.
"""

from __future__ import annotations

from typing import Final

from reformulate.recipes.reading.word_sets import word_set

IDLE: Final = word_set("""
    a an and at by for from in into of on or the to with without per about plus n as
    small medium large extra big jumbo mini miniature little thick thin long short wide tiny size sized
    bite finely fine coarsely coarse roughly rough thinly thickly freshly lightly well very firmly loosely
    packed loose heaped level rounded scant quality good best favorite favourite nice real pure
    natural organic ripe mature aged sharp mild young tender plump fancy premium homemade home made store
    bought shop ready prepared style type kind brand variety regular original classic traditional plain
    authentic old fashioned genuine everyday free range cage grass fed wild caught farm local sustainable
    chopped chop diced dice minced sliced slice cut cubed cube quartered quarter halved half piece chunk
    chunky crunchy creamy smooth shredded grated shaved slivered flaked flake crumbled crumble crushed
    mashed pureed torn julienned julienne strip stick spear wedge ring matchstick segment round bit
    crosswise lengthwise diagonally peeled seeded deseeded unpeeled cored pitted stoned stoneless seedless
    trimmed washed patted cleaned scrubbed stemmed stem shelled hulled husked deveined boneless skinless
    skinned skin bone rind removed discarded separated reserved divided optional beaten softened melted
    cooled chilled cold warm room temperature thawed defrosted soaked overnight pressed
    squeezed toasted browned sifted whole halve each more needed taste desired serve serving
    garnish sprinkle sprinkling drizzle topping dusting greasing frying block brick tub wheel ball log head
    bulb sprig bunch handful pinch dash piece leaf leafy floret kernel fillet content quick
    approximately unbleached bleached enriched unwaxed untreated pasteurized pasteurised
    tail brushed virgin day fluid nonpareil
    peppers undrained plu x glug splash dollop knob
""")
"""In the form that `words_of` gives: singular, phrases in one word."""
