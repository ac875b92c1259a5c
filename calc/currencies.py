"""Money as people write it: signs, names and hundredths of currencies; nothing is ever exchanged."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from .figures import NOTHING, count

NONE = "none"


@dataclass(frozen=True)
class Currency:
    """A currency: the sign it is shown with, other ways to write it, and the words for its hundredths."""

    sign: str
    names: tuple[str, ...] = ()
    hundredths: tuple[str, ...] = ()


CURRENCIES: tuple[Currency, ...] = (
    Currency("$", ("us$", "usd", "dollar", "dollars", "us dollar", "us dollars")),
    Currency("€", ("eur", "euro", "euros"), ("eurocent", "eurocents", "euro cent", "euro cents")),
    Currency("£", ("gbp", "pound", "pounds", "pound sterling", "pounds sterling"), ("p", "penny", "pence")),
    Currency("C$", ("ca$", "cad")), Currency("A$", ("au$", "aud")), Currency("NZ$", ("nzd",)),
    Currency("S$", ("sgd",)), Currency("HK$", ("hkd",)), Currency("NT$", ("twd",)), Currency("MX$", ("mxn",)),
    Currency("R$", ("brl", "real", "reais")),
    Currency("CHF", ("sfr", "sfr.", "swiss franc", "swiss francs"), ("rappen",)),
    Currency("kr", ("kr.", "krona", "kronor", "krone", "kroner"), ("öre", "øre", "ore")),
    Currency("SEK"), Currency("NOK"), Currency("DKK"), Currency("ISK"),
    Currency("zł", ("zl", "pln", "zloty", "zlotys", "złoty", "złotych"), ("grosz", "grosze", "groszy", "gr")),
    Currency("Kč", ("kc", "czk")), Currency("Ft", ("huf", "forint")), Currency("lei", ("ron", "leu"), ("bani",)),
    Currency("лв", ("bgn", "lev", "leva")), Currency("₴", ("uah", "грн")), Currency("₽", ("rub", "rubles")),
    Currency("₺", ("tl", "lira")), Currency("₪", ("ils", "nis", "shekel", "shekels")),
    Currency("₹", ("inr", "rs", "rs.", "rupee", "rupees"), ("paise", "paisa")),
    Currency("¥", ("jpy", "yen", "cny", "rmb", "yuan", "円", "元")), Currency("₩", ("krw", "won")),
    Currency("฿", ("thb", "baht")), Currency("₱", ("php",)), Currency("₫", ("vnd", "dong")),
    Currency("Rp", ("idr", "rupiah")), Currency("RM", ("myr", "ringgit"), ("sen",)),
    Currency("R", ("zar", "rand")), Currency("₦", ("ngn", "naira")), Currency("KSh", ("kes", "ksh.")),
)
# Hundredths of whatever the plan counts in.
CENTS = ("¢", "￠", "c", "ct", "cts", "ct.", "c.", "cent", "cents")
# Every sign that Unicode calls a currency's (category Sc) among the usual blocks.
SIGNS = "$¢£¤¥֏؋৲৳૱௹฿៛﷼＄￠￡￥￦" + "".join(map(chr, range(0x20A0, 0x20C1)))
# Written behind an amount that looked wrong, it goes with that amount and with no other.
SURE = "confirmed"
# Currencies of which no household pays two for a kilowatt-hour, so that more is likely cents.
OFTEN_IN_CENTS = ("$", "€", "£", "C$", "A$", "NZ$", NONE)


@dataclass(frozen=True)
class Written:
    """An amount of money, parted: the number with what follows it, and what was written beside it.

    ``sign`` is empty where no currency was written; ``factor`` is 0.01 for hundredths; ``sure`` says that the reader
    confirmed an amount that looked wrong.
    """

    rest: str
    sign: str = ""
    factor: float = 1.0
    sure: bool = False


def _words() -> list[tuple[str, str, float]]:
    """Every way to write a currency or its hundredths, the longest first: (word, sign, factor)."""
    found = [(word, "", 0.01) for word in CENTS]
    for one in CURRENCIES:
        found += [(word.lower(), one.sign, 1.0) for word in (one.sign, *one.names)]
        found += [(word, one.sign, 0.01) for word in one.hundredths]
    known = {word for word, _, _ in found}
    found += [(sign, sign, 1.0) for sign in SIGNS if sign not in known]
    return sorted(found, key=lambda one: -len(one[0]))


_WORDS = _words()


def _taken(text: str, end: str) -> tuple[str, str, float] | None:
    """A currency at the beginning of the text and what is left; ``end`` are the letters that may follow a word."""
    low = text.lower()
    for word, sign, factor in _WORDS:
        if low.startswith(word):
            rest = text[len(word):]
            if not rest or not word[-1].isalpha() or rest[0] in end:
                return rest.strip(), sign, factor
    return None


@lru_cache(maxsize=1024)
def written(text: str) -> Written:
    """Part an amount of money from the one currency beside it, which may stand ahead of the number or behind it."""
    if text.lower().endswith(" " + SURE):
        return replace(written(text[:-len(SURE)].rstrip()), sure=True)
    minus = "-" if text[:1] == "-" else ""
    bare = text[len(minus):].lstrip()
    ahead = _taken(bare, " 0123456789.,-") if bare and not bare[0].isdigit() else None
    # "R 2" is rand, and "¢17" is cents, while "c 2" is nothing that anybody writes.
    if ahead and (ahead[2] == 1.0 or bare[0] == "¢"):
        return Written(minus + ahead[0], *ahead[1:])
    end = 0
    while end < len(bare) and (bare[end].isdigit() or bare[end] in ".,+-eE/ " and _in_number(bare, end)):
        end += 1
    behind = _taken(bare[end:].lstrip(), " /") if end else None
    if behind:
        return Written(f"{minus}{bare[:end].rstrip()} {behind[0]}".strip(), behind[1], behind[2])
    return Written(text)


def _in_number(text: str, place: int) -> bool:
    """Whether a mark belongs to the number: a digit, or a sign and a digit, comes right after it."""
    after = text[place + 1:place + 3]
    if text[place] in "eE":
        return bool(after) and (after[0].isdigit() or after[:1] in "+-" and after[1:].isdigit())
    return after[:1].isdigit()


def amount(value: float, sign: str, digits_after: int) -> str:
    """An amount with its currency: $1,234.50, 1,234.50 kr; nothing beside it where the currency has no sign."""
    text = f"{abs(value):,.{digits_after}f}" if abs(value) < 1e6 else count(abs(value))
    minus = "-" if value < 0 and text.strip("0.,") else ""
    least = 10.0 ** -digits_after
    if NOTHING < value < 0.5 * least:
        return f"less than {amount(least, sign, digits_after)}"
    if not sign or sign == NONE:
        return minus + text
    if len(sign) == 1 and not sign.isalpha() or sign.endswith("$"):
        return f"{minus}{sign}{text}"
    return f"{minus}{text}\u00a0{sign}"
