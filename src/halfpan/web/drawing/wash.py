"""A predicted wash: a smooth gradient, strong to thin, its edge dashed, so that nobody takes it for paint."""

from __future__ import annotations

from collections.abc import Sequence

from markupsafe import Markup

from halfpan.core.paint.reading import Lab
from halfpan.web.drawing.colour import fill_of


def predicted_wash(key: str, ladder: Sequence[Lab], label: str = "") -> Markup:
    """Return a wash as SVG that fills its box.

    Parameters
    ----------
    key
        Tells this gradient from others on the page.
    ladder
        Colours from strong to thin, at strengths that fall by equal factors.
    label
        What a screen reader says; nothing for a picture whose words stand beside it.
    """
    last = max(len(ladder) - 1, 1)
    stops = Markup("").join(
        Markup('<stop offset="{:.3f}" stop-color="{}"/>').format(k / last, fill_of(lab))
        for k, lab in enumerate(ladder)
    )
    told = Markup('role="img" aria-label="{}"').format(label) if label else Markup('aria-hidden="true"')
    return Markup(
        '<svg class="predicted" viewBox="0 0 100 100" preserveAspectRatio="none" {}>'
        '<defs><linearGradient id="{}" x1="0" y1="0" x2="0" y2="1">{}</linearGradient></defs>'
        '<rect width="100" height="100" fill="url(#{})"/></svg>'
    ).format(told, key, stops, key)


def flat_colour(lab: Lab, label: str) -> Markup:
    """Return a colour that was asked for, flat and dashed: it was neither painted nor predicted."""
    return Markup(
        '<svg class="predicted asked" viewBox="0 0 100 100" preserveAspectRatio="none" role="img" '
        'aria-label="{}"><rect width="100" height="100" fill="{}"/></svg>'
    ).format(label, fill_of(lab))
