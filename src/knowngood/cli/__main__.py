"""``python -m knowngood.cli``."""

from knowngood.cli.main import main

main()
