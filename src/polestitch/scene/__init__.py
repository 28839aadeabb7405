"""Buffers for the screen in laying order, and their wire format."""

from polestitch.scene.scene import Scene, empty_scene, scene
from polestitch.scene.wire import decoded, encoded

__all__ = ["Scene", "decoded", "empty_scene", "encoded", "scene"]
