"""What the vehicle is: its layout, its places, what it is fitted with."""

from knowngood.car.car import Car, Tightening, Window
from knowngood.car.layout import MOST_CYLINDERS, Layout, layout_of
from knowngood.car.place import ENGINE, PLACE_KINDS, TWO, Place

__all__ = [
    "ENGINE",
    "MOST_CYLINDERS",
    "PLACE_KINDS",
    "TWO",
    "Car",
    "Layout",
    "Place",
    "Tightening",
    "Window",
    "layout_of",
]
