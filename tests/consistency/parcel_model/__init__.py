# SPDX-License-Identifier: BSD-3-Clause
"""Film wound on a load, every piece of film integrated on its own. Written from the equations alone."""
