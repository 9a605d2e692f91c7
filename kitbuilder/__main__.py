"""`python -m kitbuilder`."""

import sys

from kitbuilder.cli import main

sys.exit(main())
