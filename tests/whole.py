"""The whole handbook as it is built, loaded once a run: loading takes seconds. Tests read it and never change it."""

from build_tools import handbook
from build_tools.environment import ROOT

BOOK = handbook.load(ROOT)
