"""What stands around a recipe and is none of it: buttons of a page, credits, greetings at the end.

Only whole lines are told, and only by words that start no ingredient and no step, so that what
is left out is safe to leave out; it is kept as a note all the same.
"""

from __future__ import annotations

import re
from typing import Final

_PAGE: Final = re.compile(
    r"(?:jump|skip|go|back) to (?:the )?(?:recipe|video|content|instructions|ingredients|top)\b"
    r"|print(?: (?:this|the|my|it|page|recipe))*$"
    r"|(?:pin|save|share|rate|e?-?mail|bookmark|review|like|cook|make) (?:this|the|my) "
    r"(?:recipe|page|post|story)\b.{0,20}$"
    r"|(?:pin it|share(?: this| it)?|pin|tweet|save|bookmark|advertisement|sponsored|ad|video)$"
    r"|scale\b[ 0-9½x×.]*$|(?:[½0-9]+ ?x\b ?){2,}$|us customary\b|cook mode\b|prevent your screen\b"
    r"|(?:read|see|view|show|load) (?:more|all|less)\b.{0,20}$|click (?:here|to)\b|continue reading\b"
    r"|(?:get|view|see) the (?:full )?recipe\b|watch (?:the|how|this) \w+"
    r"|(?:next|previous) (?:post|recipe)\b"
    r"|(?:[#@]\w+ +)+[#@]\w+$|@\w+$",
    re.IGNORECASE,
)
_ASKING: Final = re.compile(
    r"(?:leave|write|add|post) (?:a|your) (?:comment|reply|review|rating)\b"
    r"|(?:did you (?:make|try|like|enjoy)|have you (?:made|tried)|if you (?:make|made|try|tried))"
    r" (?:this|it)\b"
    r"|let (?:me|us) know\b|(?:tag|follow) (?:me|us)\b|(?:subscribe|sign up)\b|join (?:my|our|the) \w+"
    r"|share your (?:photos?|pictures?|thoughts|results)\b"
    r"|[0-9][0-9.,]* ?(?:from|out of|/) ?[0-9][0-9.,]*(?: (?:votes?|ratings?|reviews?|stars?))?$"
    r"|[0-9][0-9.,]*k? (?:comments?|reviews?|ratings?|votes?|shares?|likes?|stars?|saves?|views?)"
    r"(?: ?\([^()]*\))?$",
    re.IGNORECASE,
)
_CREDIT: Final = re.compile(
    r"(?:photo(?:graph)?(?:s|y)?|images?|pictures?|words|text|styling|recipe|story|video) "
    r"(?:and (?:photos?|recipe|words|styling) )?(?:by|credits?|courtesy|from|©)\b"
    r"|(?:post(?:ed)?|publish(?:ed)?|updated|last updated|filed|tagged|written|submitted|shared|uploaded"
    r"|printed|contributed|created) (?:on|by|in|at|under|with|from|to|[0-9]|(?-i:[A-Z]))"
    r"|(?:adapted|inspired|reprinted|courtesy|sourced|credit) (?:from|by|of|to)\b"
    r"|from the (?:kitchen|files?|recipe box) of\b|by (?-i:[A-Z])\w+(?: (?-i:[A-Z])[\w.]+){0,2}$"
    r"|(?:©|\(c\) ?[0-9]{4}|copyright|all rights reserved)",
    re.IGNORECASE,
)
_CLOSING: Final = re.compile(
    r"(?:(?:lots of |much |with )?love|cheers|best(?: regards| wishes)?|all the best"
    r"|(?:kind |warm )?regards|xoxo|x{1,5}o*|hugs(?: and kisses)?|thanks|thank you"
    r"|many thanks|yours(?: truly)?|sincerely"
    r"|take care|talk soon|see you(?: \w+){0,3}|until next time|warmly|good luck|have fun|bon app[eé]tit)"
    r" ?(?:[,.!:–—-]+ *(?:\w+[ .!]*){0,3})?$"
    r"|enjoy\b[ ,.!]*(?:\w+ ?){0,3}[.!]*$"
    r"|happy (?:\w+ing|holidays|new year|christmas|thanksgiving|easter)\b.{0,30}$"
    r"|(?:i |we )?hope (?:you|y'all|everyone|everybody|your family)\b|(?:thanks|thank you) for\b"
    r"|(?:enjoy|serves|feeds) (?:an?|the|your|my|our)(?: \w+){0,2} (?:crowd|party|gang|army|bunch|family)\b"
    r"|(?:yum+y?|delicious|so good|voil[aà]|easy[ -]peasy|done|that's it|that's all)[ !.]*$",
    re.IGNORECASE,
)
_CLOSING_AND_NAME: Final = re.compile(
    r"(?:(?:lots of |much |with )?love|cheers|xoxo|hugs|regards|thanks|thank you|yours)"
    r"(?: (?-i:[A-Z])[\w'’.-]*){1,3}[ .!x]*$",
    re.IGNORECASE,
)
_BELOW: Final = re.compile(
    r"(?:reviews?|ratings?|related|(?:related|similar|more) (?:recipes|posts)|more like this"
    r"|leave a (?:reply|comment|review)|(?:reader )?(?:comments|reviews)|about the author"
    r"|you (?:might|may)(?: also)? (?:like|enjoy)|join the conversation)(?: ?\([0-9]+\))?[ :!.…]*$",
    re.IGNORECASE,
)
_SIGNATURE: Final = re.compile(
    r"[-–—~* ]*[A-Z][\w'’.-]*(?: (?:and |& )?[A-Z][\w'’.-]*){0,3}[ .!x]*$"
)


def is_chatter(line: str) -> bool:
    """Whether a line belongs to the page or to its writer, not to the recipe.

    Examples
    --------
    >>> is_chatter("Print this recipe"), is_chatter("Photo by Ann"), is_chatter("Save the liquid")
    (True, True, False)
    """
    return any(kind.match(line) for kind in (_PAGE, _ASKING, _CREDIT, _CLOSING))


def opens_below(line: str) -> bool:
    """Whether a line heads what a page shows below a recipe: other recipes, remarks of readers.

    Examples
    --------
    >>> opens_below("You might also like"), opens_below("Leave a reply"), opens_below("Tips")
    (True, True, False)
    """
    return bool(_BELOW.match(line))


def closes(line: str) -> bool:
    """Whether a line below the ingredients takes leave, so that a name may follow.

    Examples
    --------
    >>> closes("xoxo"), closes("Love Mara"), closes("Chill well.")
    (True, True, False)
    """
    return bool(_CLOSING.match(line) or _CLOSING_AND_NAME.match(line))


def may_be_a_signature(line: str) -> bool:
    """Whether a line may be the name under a mail.

    Examples
    --------
    >>> may_be_a_signature("Aunt Mara"), may_be_a_signature("stir well")
    (True, False)
    """
    return bool(_SIGNATURE.match(line))
