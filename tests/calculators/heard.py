"""The listening room's sounds as arrays, and how to measure them."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from scipy import signal

from build_tools.laboratories import model_for_door
from calculators import door
from tests.whole import BOOK

DATA = model_for_door(BOOK, "heart_sounds")
SCENES: dict[str, dict[str, Any]] = {scene["id"]: scene for scene in DATA["scenes"]}
SHEET = json.dumps(DATA)
door.load(SHEET)


@dataclass(frozen=True)
class Heard:
    """An answer of the model: its samples from -1 to 1, and the whole of it."""

    samples: np.ndarray
    answer: dict[str, Any]

    @property
    def rate(self) -> int:
        return int(self.answer["rate"])

    def events(self, name: str) -> list[dict[str, Any]]:
        return [event for event in self.answer["events"] if event["id"].startswith(name)]

    def between(self, start: float, end: float) -> np.ndarray:
        """The samples from one ms to another; past the end they go on from the start."""
        places = np.arange(round(start * self.rate / 1000), round(end * self.rate / 1000))
        return self.samples[places % len(self.samples)]


def request(scene: str, **asked: Any) -> dict[str, Any]:
    """A request for a scene, where it is best heard unless told otherwise."""
    area, piece = SCENES[scene]["best"]
    return {"model": "heart_sounds", "scene": scene, "area": area, "piece": piece, **asked}


@lru_cache(maxsize=64)
def _heard(text: str) -> Heard:
    answer = json.loads(door.answer(text))
    assert answer["state"] == "answer", answer
    return Heard(np.array(answer["samples"]) / 32768, answer)


def hear(scene: str, **asked: Any) -> Heard:
    return _heard(json.dumps(request(scene, **asked)))


def loudness(samples: np.ndarray) -> float:
    """Root mean square."""
    return float(np.sqrt(np.mean(samples**2)))


def spectrum(samples: np.ndarray, rate: int = 8000) -> tuple[np.ndarray, np.ndarray]:
    """Frequencies in Hz and the power at each."""
    return signal.welch(samples, rate, nperseg=min(len(samples), 1024), nfft=4096)


def share_within(samples: np.ndarray, low: float, high: float) -> float:
    """The share of the energy that lies between two frequencies."""
    frequencies, power = spectrum(samples)
    return float(power[(frequencies >= low) & (frequencies <= high)].sum() / power.sum())


def band(samples: np.ndarray, low: float, high: float) -> float:
    """How much there is between two frequencies, as a size."""
    frequencies, power = spectrum(samples)
    return float(np.sqrt(power[(frequencies >= low) & (frequencies <= high)].sum()))


def centre(samples: np.ndarray) -> float:
    """The middle of the energy, in Hz."""
    frequencies, power = spectrum(samples)
    return float((frequencies * power).sum() / power.sum())


def envelope(samples: np.ndarray, window_ms: float, rate: int = 8000) -> np.ndarray:
    """Loudness from moment to moment."""
    width = max(1, round(window_ms * rate / 1000))
    return np.sqrt(np.convolve(samples**2, np.ones(width) / width, "same"))
