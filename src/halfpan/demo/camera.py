"""The virtual camera: a scene, circumstances and a device make a picture.

Everything is chance from one generator, so the same seed takes the same picture.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Literal

import cv2
import numpy as np
from numpy.typing import ArrayLike, NDArray

from halfpan.core.colour.screen import encode_srgb
from halfpan.demo.lamp import faithful_weights
from halfpan.demo.scene import TABLE_MM, Scene
from halfpan.demo.setting import Setting, cover_up, lamp_share, light_on, stray_light
from halfpan.demo.sheet import PaintedSheet
from halfpan.demo.shot import Kind, Shot, encode, encoding_table, to_pixels
from halfpan.demo.view import View, look_at

Array = NDArray[np.float64]
Field = NDArray[np.float32]
Mixing = Literal["towards grey", "leaking", "either way"]


def srgb_tone() -> Field:
    """Return the encoding of sRGB at evenly spaced levels."""
    return np.asarray(encode_srgb(np.linspace(0, 1, 4097)), dtype=np.float32)


@dataclass(frozen=True, slots=True, eq=False)
class Camera:
    """What a camera does to light.

    ``weights`` (31, 3) turn reflectance into linear values under the lamp, ``second`` under a second lamp
    that lights other parts of the sheet; ``tone`` encodes them; ``shot`` and ``read`` are the noise that
    grows with light and the noise that does not; ``denoise`` (8-bit steps) and ``sharpen`` come afterwards.
    """

    weights: Array = field(default_factory=faithful_weights)
    second: Array | None = None
    tone: Field = field(default_factory=srgb_tone)
    vignette: float = 0.10
    shot: float = 0.010
    read: float = 0.0015
    blur_px: float = 0.8
    denoise: float = 0.0
    sharpen: float = 0.0
    quality: int = 92
    device: tuple[str, str] = ("Saltmarsh", "Pocket")


def simple_camera(rng: np.random.Generator, *, mixing: Mixing = "either way") -> Camera:
    """Return a camera that keeps sRGB's tone but mixes its primaries by 5 to 10 %; white stays white.

    "towards grey" puts that share of each primary's light into an equal mixture of all three, "leaking" lets
    the other two in by that share together, and "either way" lets them in or takes them out, so that it may
    overdo colours as well as dull them and drive the strongest out of what its file holds.
    """
    mixed = np.eye(3)
    for row in mixed:
        others, share = row == 0, rng.uniform(0.05, 0.10)
        if mixing == "towards grey":
            row[others] = share / 3
        else:
            row[others] = (
                share * rng.dirichlet([2, 2]) * rng.choice([-1, 1] if mixing == "either way" else [1], 2)
            )
        row[~others] = 1 - row[others].sum()
    return Camera(
        weights=faithful_weights() @ mixed.T, device=("Saltmarsh", f"Simple {rng.integers(100, 999)}")
    )


def simple_setting(
    rng: np.random.Generator, *, hard: bool = False, size: tuple[int, int] = (4000, 3000)
) -> Setting:
    """Return the circumstances of a plain photograph; ``hard`` adds lens, bend, soft shadow and glare."""
    plain = Setting(
        size=size,
        tilt=rng.uniform(4, 12),
        tilt_towards=rng.uniform(0, 360),
        roll=rng.normal(0, 2),
        falloff=0.33,
        falloff_towards=rng.uniform(0, 360),
        exposure=rng.uniform(0.72, 0.88),
    )
    if not hard:
        return plain
    return replace(
        plain,
        lens=(rng.uniform(-0.10, 0.06), rng.normal(0, 0.01), rng.normal(0, 5e-4), rng.normal(0, 5e-4)),
        curl=rng.uniform(1.5, 4.0) * rng.choice([-1, 1]),
        curl_angle=rng.uniform(0, np.pi),
        shadow=rng.uniform(0.15, 0.35),
        shadow_edge=rng.uniform(15, 35),
        veil=rng.uniform(0.03, 0.08),
    )


def photograph(
    painted: PaintedSheet,
    *,
    rng: np.random.Generator,
    camera: Camera | None = None,
    setting: Setting | None = None,
    target: ArrayLike | None = None,
    kind: Kind = "jpg",
) -> Shot:
    """Photograph a painted sheet.

    Parameters
    ----------
    painted : PaintedSheet
    rng : all chance comes from here, and the camera and setting when they are not given
    camera, setting : `simple_camera` and `simple_setting` when not given
    target : array, shape (24, 3), D50 colours of a 24-patch target to lie at the right of the sheet
    kind : of the file
    """
    camera = camera or simple_camera(rng)
    setting = setting or simple_setting(rng)
    scene = Scene(painted, None if target is None else np.asarray(target, dtype=np.float64))
    view = view_of(scene, setting)
    light = _seen(scene, camera, view, rng)
    coarse, _ = view.coarse_map()
    size = (painted.sheet.width_mm, painted.sheet.height_mm)
    light *= light_on(setting, coarse, size, camera.vignette, rng) * np.float32(setting.exposure)
    if (stray := stray_light(setting, rng)) is not None:
        light += stray * np.float32(setting.exposure)
    if setting.cover:
        cover_up(light, setting, rng)
    pixels = develop(light, camera, rng)
    places = None if target is None else view.place(scene.target_places())
    return Shot(encode(pixels, kind, camera.quality, camera.device), kind, view, places)


def view_of(scene: Scene, setting: Setting) -> View:
    """Return where the scene lies in the picture."""
    sheet = scene.painted.sheet
    view = look_at(
        scene.corners(),
        setting.size,
        tilt=setting.tilt,
        direction=setting.tilt_towards,
        roll=setting.roll,
        fill=setting.fill,
    )
    ridge = (sheet.width_mm / 2, sheet.height_mm / 2, setting.curl_angle)
    return replace(view, lens=setting.lens, curl=setting.curl, ridge=ridge)


def _seen(scene: Scene, camera: Camera, view: View, rng: np.random.Generator) -> Field:
    """Return the scene as the lens throws it on the sensor, in full light everywhere."""
    plane = scene.light(camera.weights, rng)
    if camera.second is not None:
        share = lamp_share(plane.shape[:2], rng)
        plane += share * (scene.light(camera.second, rng) - plane)
    ppm = scene.painted.pixels_per_mm
    places = view.sheet_map()
    places += np.float32(TABLE_MM)
    places *= np.float32(ppm)
    places -= np.float32(0.5)
    shrink = ppm / _pixels_per_mm(view, scene)
    if shrink > 1.2:
        plane = np.asarray(cv2.GaussianBlur(plane, (0, 0), 0.42 * shrink), dtype=np.float32)
    x, y = (np.ascontiguousarray(places[..., k]) for k in (0, 1))
    seen = cv2.remap(plane, x, y, cv2.INTER_LINEAR, borderMode=cv2.BORDER_REPLICATE)
    blurred = cv2.GaussianBlur(seen, (0, 0), camera.blur_px) if camera.blur_px > 0.3 else seen
    return np.asarray(blurred, dtype=np.float32)


def _pixels_per_mm(view: View, scene: Scene) -> float:
    sheet = scene.painted.sheet
    middle = np.array([sheet.width_mm / 2, sheet.height_mm / 2])
    ends = view.place(np.stack([middle, middle + np.array([1.0, 0.0])]))
    return float(np.hypot(*(ends[1] - ends[0])))


def develop(light: Field, camera: Camera, rng: np.random.Generator) -> NDArray[np.uint8]:
    """Return 8-bit pixels of the light on the sensor: noise, tone, and what the camera does to please."""
    rows, cols = light.shape[:2]
    noise = rng.standard_normal(light.shape, dtype=np.float32)
    noise *= np.sqrt(np.float32(camera.shot**2) * np.maximum(light, 0) + np.float32(camera.read**2))
    light += noise
    pixels = to_pixels(light, encoding_table(camera.tone))
    if camera.denoise:
        smooth = cv2.GaussianBlur(pixels, (0, 0), 1.0 + min(rows, cols) / 6000)
        steps = np.arange(-255, 256, dtype=np.float32)
        kept = np.sign(steps) * np.maximum(np.abs(steps) - np.float32(camera.denoise), 0)
        kept *= np.float32(1 + camera.sharpen)
        detail = cv2.subtract(pixels, smooth, dtype=cv2.CV_16S)
        pixels = np.asarray(cv2.add(smooth, kept.astype(np.int16)[detail + 255], dtype=cv2.CV_8U))
    return pixels
