"""CxF3 / ISO 17972: the XML that instruments exchange.

The file is checked here before it is handed on: no document type, no entities, the CxF3 root, numbers that
are numbers. Where a spectrum's step is not stated it is refused; a step is never guessed.
"""

from __future__ import annotations

import re
from xml.etree import ElementTree as ET

import numpy as np

from halfpan.errors import UnreadableTable
from halfpan.files.instrument import (
    Measured,
    MeasuredTable,
    condition_of,
    number,
    on_bands,
    reflectance_scale,
)

NAMESPACE = "http://colorexchangeformat.com/CxF3-core"


def read_cxf_bytes(data: bytes, name: str) -> MeasuredTable:
    """Read the measured colours of a CxF3 file.

    Raises
    ------
    UnreadableTable
        When it is no CxF3, carries a document type or entities, or holds no usable colour.
    """
    root = checked_root(data, name)
    specifications = {
        spec.get("Id", ""): spec for spec in root.iter(_tag("ColorSpecification")) if spec.get("Id")
    }
    rows: list[Measured] = []
    problems: list[str] = []
    for count, thing in enumerate(root.iter(_tag("Object")), start=1):
        where = f"Object {thing.get('Name') or thing.get('Id') or count}"
        found = _object(thing, specifications, where, count)
        if isinstance(found, str):
            problems.append(found)
        elif found is not None:
            rows.append(found)
    if not rows:
        raise UnreadableTable(f"{name} holds no usable colour." + (f" {problems[0]}" if problems else ""))
    return MeasuredTable(tuple(rows), tuple(problems))


def checked_root(data: bytes, name: str) -> ET.Element:
    """Parse a CxF3 file after refusing what an instrument never writes: document types and entities."""
    head = data.replace(b"\x00", b"").upper()
    if b"<!DOCTYPE" in head or b"<!ENTITY" in head:
        raise UnreadableTable(f"{name} carries a document type, which no instrument writes; it is not read.")
    try:
        root = ET.fromstring(data)  # noqa: S314 - document types and entities are refused above
    except (ET.ParseError, ValueError, LookupError) as trouble:
        raise UnreadableTable(f"{name} is damaged: {trouble}.") from trouble
    if root.tag != _tag("CxF"):
        raise UnreadableTable(f"{name} is not a CxF3 file (its root is {root.tag.rsplit('}', 1)[-1]!r}).")
    return root


def _tag(name: str) -> str:
    return f"{{{NAMESPACE}}}{name}"


def _object(
    thing: ET.Element, specifications: dict[str, ET.Element], where: str, count: int
) -> Measured | str | None:
    """Return the row of one object, why it has none, or None where it holds no colour values at all."""
    values = thing.find(_tag("ColorValues"))
    if values is None:
        return None
    label = thing.get("Name") or thing.get("Id") or ""
    parts = ((label, None),) if label else ()
    spectrum = values.find(_tag("ReflectanceSpectrum"))
    reason = f"{where}: neither reflectance nor Lab is given."
    if spectrum is not None:
        spec = specifications.get(spectrum.get("ColorSpecification", ""))
        found = _spectrum(spectrum, spec, where)
        if not isinstance(found, str):
            return Measured(label, parts, *found, _condition(spec), count)
        reason = found
    lab = values.find(_tag("ColorCIELab"))
    if lab is None:
        return reason
    spec = specifications.get(lab.get("ColorSpecification", ""))
    other = _other_light(spec)
    if other:
        return f"{where}: Lab is given under {other}; Halfpan needs D50, 2 degrees, or reflectance."
    three = [number(lab.findtext(_tag(c), "")) for c in ("L", "A", "B")]
    if any(v is None for v in three):
        return f"{where}: L, A or B is missing or not a number."
    light, a, b = (float(v) for v in three if v is not None)
    if not -1 <= light <= 130 or max(abs(a), abs(b)) > 200:
        return f"{where}: L {light:g}, A {a:g}, B {b:g} is no colour of paint."
    return Measured(label, parts, (light, a, b), None, _condition(spec), count)


def _spectrum(
    spectrum: ET.Element, spec: ET.Element | None, where: str
) -> tuple[tuple[float, float, float], tuple[float, ...]] | str:
    values = [number(word) for word in (spectrum.text or "").split()]
    if not values or any(v is None for v in values):
        return f"{where}: the spectrum holds what is not a number."
    start, step = number(spectrum.get("StartWL", "")), None
    if spec is not None:
        span = spec.find(f".//{_tag('WavelengthRange')}")
        if span is not None:
            step = number(span.get("Increment", ""))
            start = number(span.get("StartWL", "")) if start is None else start
    if start is None or step is None or step <= 0:
        return f"{where}: the step of its spectrum is not stated, and is not guessed."
    wavelengths = start + step * np.arange(len(values), dtype=np.float64)
    if wavelengths[0] > 400 or wavelengths[-1] < 700 or step > 20:
        return f"{where}: its spectrum covers {start:g}-{wavelengths[-1]:g} nm; 400-700 is needed."
    seen = np.array(values, dtype=np.float64)
    seen = seen / reflectance_scale(seen.tolist())
    if seen.min() < -0.02:
        return f"{where}: reflectance {seen.min():g} is below 0."
    return on_bands(wavelengths, seen)


def _condition(spec: ET.Element | None) -> str:
    """Return M0 to M3 (ISO 13655) where the specification states it."""
    if spec is None:
        return ""
    words = " ".join(
        (element.text or "") + " " + " ".join(element.attrib.values()) for element in spec.iter()
    )
    return condition_of(words) or condition_of(re.sub(r"_", " ", words))


def _other_light(spec: ET.Element | None) -> str:
    """Return illuminant and observer where they are stated and are not D50, 2 degrees."""
    if spec is None:
        return ""
    light = spec.findtext(f".//{_tag('Illuminant')}", "").strip()
    observer = spec.findtext(f".//{_tag('Observer')}", "").strip()
    wrong = (light and light.upper() != "D50") or (
        observer and not re.match(r"2(_|\s|$|D)", observer, re.IGNORECASE)
    )
    return f"{light or 'D50'}, {observer or '2 degrees'}" if wrong else ""
