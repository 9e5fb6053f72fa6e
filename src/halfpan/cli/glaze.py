"""``halfpan glaze``: dry layers one over the other."""

from __future__ import annotations

from typing import Annotated

import typer

from halfpan.cli.frame import AsJson, opened, put_json
from halfpan.cli.mix import ByEye, Paper, show_predictions

app = typer.Typer(help="Glazes: one dry layer over another.", no_args_is_help=True)


@app.callback()
def glaze() -> None:
    """Glazes: one dry layer over another."""


@app.command("predict")
def predict(
    ctx: typer.Context,
    glaze: Annotated[str, typer.Argument(help="From the top down: “Rose over Yellow”; layers may be mixes.")],
    *,
    strength: Annotated[
        list[float] | None,
        typer.Option(help="Of each layer as written, 1 being full; the last holds for the rest."),
    ] = None,
    paper: Paper = "",
    by_eye: ByEye = False,
    as_json: AsJson = False,
) -> None:
    """Predict a glaze of dry layers; the order matters."""
    from halfpan.studio.mix_document import predictions_to_dict
    from halfpan.studio.predict_mix import predict_glaze

    with opened(ctx) as studio:
        found = predict_glaze(studio, glaze, strengths=strength or [1.0], paper=paper, by_eye=by_eye)
    if as_json:
        put_json(predictions_to_dict(found.predictions))
    else:
        show_predictions([glaze], found.predictions)
