"""What the vehicle is: its layout, its places, what it is fitted with."""

from knowngood.car.car import Car, Tightening, Window
from knowngood.car.layout import MOST_CYLINDERS, Layout, layout_of
from knowngood.car.place import ENGINE, ON_ENGINE, ONE_OR_TWO, PLACE_KINDS, TWO, WITH_LEVELS, Place

__all__ = [
    "ENGINE",
    "MOST_CYLINDERS",
    "ONE_OR_TWO",
    "ON_ENGINE",
    "PLACE_KINDS",
    "TWO",
    "WITH_LEVELS",
    "Car",
    "Layout",
    "Place",
    "Tightening",
    "Window",
    "layout_of",
]
