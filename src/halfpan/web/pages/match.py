"""Matching a colour: typed, or picked from a reference picture; painted boxes first, then predictions."""

from __future__ import annotations

from fastapi import APIRouter, Request
from starlette.responses import Response

from halfpan.core.colour.notation import hue_words
from halfpan.files.words import say
from halfpan.studio.keep_paper import measured_papers
from halfpan.studio.lay_tin import list_tins
from halfpan.studio.match_colour import MatchAnswer, find_match
from halfpan.studio.mix_words import mix_in_words
from halfpan.web.among import among_tins
from halfpan.web.asked import AskedStudio
from halfpan.web.drawing.wash import flat_colour, predicted_wash
from halfpan.web.frame import show
from halfpan.web.pages.mixes import mix_url, typed_colour

router = APIRouter(include_in_schema=False)
NEAR = 5.0  # dE00 up to which a painted box is worth showing as proof, as the command shows it
SHOWN = 6


@router.get("/mixes/match")
def match_page(  # noqa: PLR0917 (a form sends them by name)
    request: Request,
    studio: AskedStudio,
    colour: str = "",
    among: str = "all",
    paints: int = 3,
    paper: str = "",
) -> Response:
    """Ask for a colour, and show the mixes that come nearest."""
    lab, trouble = typed_colour(colour)
    answer = (
        find_match(studio, lab, among=among_tins(studio, among), most=paints, count=SHOWN, paper=paper)
        if lab
        else None
    )
    matter = {
        "asked": {"colour": colour, "among": among, "paints": paints, "paper": paper},
        "trouble": trouble,
        "papers": measured_papers(studio),
        "tins": [one.name for one in list_tins(studio) if one.paints],
        "answer": answer,
        "target": flat_colour(lab, hue_words(lab)) if lab else "",
        "target_words": hue_words(lab) if lab else "",
        "painted": _painted(answer) if answer else [],
        "matches": _matches(answer, paper) if answer else [],
    }
    return show(request, "match.html", matter, section="mixes", status=422 if trouble else 200)


def _painted(answer: MatchAnswer) -> list[tuple[str, str, float]]:
    return [
        (one.observation.box, mix_in_words(one.observation.recipe.layers[0], answer.names), one.apart)
        for one in answer.painted
        if one.apart <= NEAR
    ]


def _matches(answer: MatchAnswer, paper: str) -> list[dict[str, object]]:
    return [
        {
            "parts": one.parts,
            "url": mix_url([paint for paint, _ in one.parts], [parts for _, parts in one.parts], paper),
            "strength": _strength(one.strength),
            "apart": one.apart,
            "within": one.prediction.within_delta_e00,
            "verdict": one.verdict,
            "wash": predicted_wash(f"m-{k}", [one.prediction.lab, one.prediction.lab]),
            "light": {witness: said for witness, said in light.items() if said},
            "grain": {witness: said for witness, said in grain.items() if said},
        }
        for k, (one, light, grain) in enumerate(
            zip(answer.matches, answer.light, answer.granulation, strict=True)
        )
    ]


def _strength(strength: float) -> str:
    """Say how strong a wash has to be laid, 1 being full strength."""
    if strength < 0.95:
        return say("match.thinned", share=f"{strength:.0%}".rstrip("%"))
    return say("match.thick", times=f"{strength:.1f}") if strength >= 1.05 else say("match.full")
