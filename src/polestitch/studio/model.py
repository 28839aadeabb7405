"""The ball as a 3D model: glTF binary, thread as geometry and colour.  Runs in a worker.

In: a build.  Out: bytes of a ``.glb`` file in metres, N upward, as the standard has it.
"""

from typing import Any

import numpy as np
import trimesh
from numpy.typing import NDArray
from trimesh.parent import Geometry
from trimesh.visual.material import PBRMaterial
from trimesh.visual.texture import TextureVisuals

from polestitch.document.colours import Colour
from polestitch.pipeline import Build
from polestitch.scene.scene import lift
from polestitch.scene.tubes import Tubes, tubes
from polestitch.sphere.arcs import Points

UP = np.array([[1.0, 0, 0], [0, 0, 1], [0, -1, 0]])  # N is z here, y in glTF


def model(build: Build) -> bytes:
    """Ground and every thread, each one part with its own colour."""
    scale = build.ball.radius_mm / 1000
    ground = trimesh.creation.icosphere(subdivisions=4)
    parts: dict[str, Geometry] = {
        "ground": _part(ground.vertices, ground.vertex_normals, ground.faces, _matt(build.design.ball.colour))
    }
    for found in tubes(build.laid, lift(build)):
        thread = build.design.threads[found.thread]
        parts[thread.name] = _tube(found, _metal(thread.colour) if thread.metallic else _matt(thread.colour))
    for part in parts.values():
        part.apply_transform(np.block([[scale * UP, np.zeros((3, 1))], [np.zeros((1, 3)), np.ones((1, 1))]]))
    return bytes(trimesh.Scene(parts).export(file_type="glb", include_normals=True))


def _tube(found: Tubes, material: PBRMaterial) -> trimesh.Trimesh:
    return _part(found.corners, found.normals, found.triangles, material)


def _part(corners: Points, normals: Points, triangles: NDArray[Any], material: PBRMaterial) -> trimesh.Trimesh:
    visual = TextureVisuals(material=material)
    return trimesh.Trimesh(corners, triangles, vertex_normals=normals, visual=visual, process=False)


def _matt(colour: Colour) -> PBRMaterial:
    return PBRMaterial(baseColorFactor=_linear(colour), metallicFactor=0.0, roughnessFactor=0.75)


def _metal(colour: Colour) -> PBRMaterial:
    return PBRMaterial(baseColorFactor=_linear(colour), metallicFactor=0.9, roughnessFactor=0.35)


def _linear(colour: Colour) -> list[float]:
    """Linear light, which is what glTF wants."""
    from polestitch.picture.colours import linear

    return [*linear(colour).tolist(), 1.0]
