"""Names of foods that a reader of lines has to know: those that describing words belong to."""

from __future__ import annotations

from typing import Final

from reformulate.recipes.reading.word_sets import phrase_set, word_set

KEPT_PHRASES: Final = phrase_set("""
    sour cream; heavy cream; light cream; ice cream; ice cube; ice cubes; whipped topping
    evaporated milk; dry milk; milk chocolate; dark chocolate; hot chocolate; hot cocoa; hot fudge
    whole wheat; whole grain; whole meal; whole kernel corn; shredded wheat; puffed rice; crisp rice
    baked beans; refried beans; creamed corn; creamed spinach; head lettuce; sweet onion
    brown rice cake; brown rice cakes; sweet rice; hot cereal; white bread; brown bread; flat bread
    hot dog; hot dogs; hot sauce; hot pepper sauce; hot chili sauce; hot chili oil; sweet chili sauce
    sweet and sour; sweet pickle; sweet pickles; sweet relish; sweet pickle relish
    half and half; half & half; half n half; half-and-half; bread and butter; devil's food; angel food
    blue cheese; bleu cheese; deli ham; deli roast beef; deli turkey; deli meat; deli mustard; roast beef
    red velvet; black forest; yellow cake; white cake; short crust; black treacle; red snapper
    firm tofu; extra firm tofu; extra-firm tofu; soft tofu; plain soy; hash brown; hash browns
    short ribs; spare rib; spare ribs; rib eye; rib roast; prime rib; round steak; round roast
    round tip; ground round; french fried onions; hard cider; iced tea; green tea; black tea
    dry onion soup; dry mustard; light corn syrup; dark corn syrup; black salt; black olive
    black olives; pink peppercorn; pink peppercorns; black peppercorns; yellow squash
    mixed greens; mixed vegetables; mixed nuts; mixed berries; mixed fruit; mixed herbs; mixed spice
    soured cream; thickened cream; clotted cream; soft cheese; hard cheese; split peas; split pea
    sun dried; sun dried tomatoes; yukon gold; cracked wheat; dried fruit; brown sauce; white sauce
    sweet chilli sauce; hot chilli sauce; chilli powder; seasoned salt; s & p; s and p; soft drink
    heart of palm; hearts of palm; cream of tartar; cream of mushroom; cream of chicken
    cream of celery; cream of coconut; lady fingers; summer savory; chili powder
""")
"""Names in which no word is left out."""

ONE_DISH: Final = phrase_set("""
    macaroni and cheese; macaroni & cheese; mac and cheese; mac & cheese; pork and beans
    pork & beans; half and half; half & half; beans and franks; biscuits and gravy; rice and beans
    bread and butter; cookies and cream; cookies & cream; ham and cheese; peas and carrots
    peas & carrots; peanut butter and jelly; s & p; s and p
""")
"""Names with an "and" in them that are one food."""

NAMED_FOR_PLACES: Final = word_set("""
    dijon italian parmesan greek mexican worcestershire swiss cheddar monterey jack colby texas
    cajun creole french spanish thai asian chinese japanese indian korean vietnamese moroccan
    english irish scotch canadian american hawaiian california himalayan kosher yukon russet idaho
    roma granny fuji gala honeycrisp vidalia anaheim serrano gruyere gruyère gouda feta asiago
    romano pecorino parmigiano reggiano brie havarti muenster provolone mozzarella ricotta bermuda
    belgian brussels brussel boston bibb napa kalamata arborio basmati jasmine meyer key persian
    medjool marsala madeira burgundy chardonnay cabernet sauvignon merlot champagne bourbon cognac
    szechuan sichuan hungarian polish german bing concord bartlett anjou bosc hass portobello
    cremini shiitake ranch caesar alfredo marinara buffalo cornish virginia genoa angus york
    southern dutch danish turkish cuban mediterranean southwest southwestern creme crème peruvian
    caribbean jamaican cantonese neapolitan ceylon saigon georgia washington maine alaskan
    atlantic pacific dungeness new nicoise niçoise sicilian tuscan russian thousand island
    western neufchatel neufchâtel mascarpone manchego emmental emmentaler edam fontina
    limburger roquefort gorgonzola stilton camembert chantilly bavarian swedish london canton
    graham lebanese israeli portuguese norwegian austrian australian british welsh scottish brazilian
    argentinian syrian egyptian tunisian african bulgarian nordic scandinavian malaysian cheshire
    leicester gloucester lancashire wensleydale emmenthal halloumi riesling pinot noir grigio shiraz
    rioja chianti prosecco braeburn bramley romaine savoy bonnet carnaroli puy piper edward desiree
""")
"""Capitalised words that are part of a food's name and no maker's."""

KINDS: Final = frozenset({"oil", "broth", "stock", "juice", "vinegar"})
"""Names that two words before them may share: vegetable or canola oil."""
LEANING: Final = word_set(
    "vegetable canola corn olive peanut sunflower safflower grapeseed rapeseed avocado sesame "
    "coconut walnut chicken beef fish lemon lime orange cider wine malt rice balsamic"
)
"""Words that name a food of another kind when one of ``KINDS`` follows."""

PRODUCTS: Final = word_set(
    "dip spread chips crisps crackers dressing sauce soup seasoning mix relish chutney bread cheese "
    "stuffing yogurt yoghurt blend rub salad pie cake pudding butter vinaigrette marinade pickle "
    "pickles jam marmalade sausage sausages pizza pasta cereal bars crumble smoothie"
)
"""Foods that two others joined by "and" may only be the flavour of: sour cream and onion dip."""

FOOD_NOUNS: Final = word_set("""
    ale all-purpose almond anchovy apple apricot artichoke arugula asparagus avocado bacon bagel
    balsamic banana barley basil bay bean beef beer beet berry biscuit blackberry blueberry
    bouillon brandy bread broccoli broth buckwheat bun butter buttermilk cabbage cake candy caper
    caramel cardamom carrot cashew cauliflower cayenne celery cereal cheese cherry chicken
    chickpea chili chilli chip chive chocolate cider cilantro cinnamon clam clementine clove cocoa
    coconut cod coffee cola cookie coriander corn cornmeal cornstarch cottage couscous crab
    cracker cranberry cream cucumber cumin curry custard date dill dough dressing duck egg
    eggplant endive espresso extract fennel fig fish flour frosting fruit garlic gelatin ghee gin
    ginger grape grapefruit gravy guacamole ham hazelnut herb honey horseradish hummus icing
    jalapeno jalapeño jam jelly juice kale ketchup kiwi lamb lard lavender leek lemon lemonade
    lentil lettuce lime liqueur lobster macaroni mango maple margarine marshmallow mayo mayonnaise
    meat melon milk millet mint miso molasses mushroom mustard nectarine noodle nut nutmeg oat
    oatmeal oil okra olive onion orange oregano oyster pancake paprika parsley parsnip pasta pea
    peach peanut pear pecan pepper peppermint pepperoni pickle pie pimento pimiento pine pineapple
    pistachio pizza plum polenta pomegranate pork potato powder pretzel prosciutto prune pudding
    pumpkin quinoa radish raisin raspberry relish rhubarb rice roll rosemary rum saffron sage
    salad salami salmon salsa salt sauce sauerkraut sausage scallion scallop seasoning seed
    semolina sesame shallot sherry shortening shrimp soda sorbet soup soy spaghetti spice spinach
    squash steak stock strawberry sugar sunflower syrup taco tahini tangerine tapioca tarragon tea
    tequila thyme tofu tomatillo tomato tortilla tuna turkey turmeric turnip vanilla veal
    vegetable vinegar vodka waffle walnut wasabi water watermelon wheat whiskey wine yam yeast
    yogurt yoghurt zest zucchini tomatoes potatoes berries cherries anchovies chilies chillies
    radishes peaches leaves mangoes crabmeat breadcrumb crumb skyr quark labneh edamame chipotle
    harissa pesto nacho crouton ricotta mozzarella feta parmesan cheddar
    baguette ciabatta focaccia naan pita pitta crispbread crudité crudite crisp oatcake breadstick
    rocket courgette aubergine beetroot mangetout gherkin cornichon capsicum celeriac chard collard
    cress watercress chicory radicchio kohlrabi jicama plantain cassava seaweed nori kimchi sultana
    currant mince gammon chorizo pastrami venison goose duck liver brisket sirloin chuck halloumi
    paneer mascarpone brie camembert stilton gouda bulgur gnocchi ravioli lasagne lasagna linguine
    penne vermicelli tempeh seitan treacle agave grenadine vermouth lager prosecco meringue fudge
    toffee marzipan granola muesli flaxseed linseed chia sardine mackerel trout haddock herring squid
    calamari mussel prawn crayfish chutney piccalilli aioli tzatziki houmous tapenade sumac dukkah
    masala fenugreek mace allspice anise marjoram sorrel chervil lemongrass tamarind sriracha mirin
    tamari panko stuffing suet gelatine cornflour arrowroot kefir papaya guava lychee passionfruit
    persimmon quince gooseberry elderflower satsuma bitters
""")
"""Common names of foods, to tell a food in brackets or with a capital from other words."""


def is_a_food(word: str) -> bool:
    """Whether a word in small letters, or its singular, is a common name of a food.

    Examples
    --------
    >>> is_a_food("capers"), is_a_food("chopped")
    (True, False)
    """
    return word in FOOD_NOUNS or word.rstrip("s") in FOOD_NOUNS
