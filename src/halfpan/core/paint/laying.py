"""How a painted wash lies, in words: evenness, its edge, and paints of a mix that part company.

The words are Halfpan's own and so are their limits; no standard has any. Values and half widths are those of
``Swatch``. What was not measured is untested; what the doubt leaves open has no word.
"""

from __future__ import annotations

from dataclasses import dataclass

from halfpan.core.paint.reading import Swatch

UNTESTED = "untested"
OPEN = "cannot be told"


@dataclass(frozen=True, slots=True)
class LayingRule:
    """When a measure earns a word; to be turned as you like.

    ``even_up_to`` is an rms difference of ln luminance over the wash (0.08 is 8 %), ``rim_from`` the
    difference between middle and rim, ``parting_from`` the share of colour that parts from lightness.
    """

    even_up_to: float = 0.08
    rim_from: float = 0.05
    parting_from: float = 0.35


def laying_words(swatch: Swatch, rule: LayingRule | None = None) -> dict[str, str]:
    """Return what a painted box shows of evenness, edge and separation, each as a word with its measure."""
    used = rule or LayingRule()
    return {
        "evenness": _said(
            swatch.unevenness,
            swatch.unevenness_within,
            used.even_up_to,
            ("even", "uneven"),
            "{} over the wash",
        ),
        "edge": _edge(swatch, used.rim_from),
        "separation": _said(
            swatch.separation,
            swatch.separation_within,
            used.parting_from,
            ("colours keep together", "colours part"),
            "{} of the colour goes its own way",
        ),
    }


def _said(
    value: float | None, within: float | None, limit: float, words: tuple[str, str], measure: str
) -> str:
    if value is None:
        return UNTESTED
    doubt = within or 0.0
    word = words[0] if value + doubt <= limit else words[1] if value - doubt >= limit else OPEN
    return f"{word}, {measure.format(f'{100 * value:.0f} ± {100 * doubt:.0f} %')}"


def _edge(swatch: Swatch, limit: float) -> str:
    if swatch.edge is None:
        return UNTESTED
    value, doubt = swatch.edge, swatch.edge_within or 0.0
    words = {
        "dark rim": value - doubt >= limit,
        "pale rim": value + doubt <= -limit,
        "no rim": abs(value) + doubt <= 2 * limit,
    }
    word = next((word for word, holds in words.items() if holds), OPEN)
    return f"{word}, {100 * value:+.0f} ± {100 * doubt:.0f} % against the middle"
