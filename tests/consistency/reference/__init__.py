# SPDX-License-Identifier: BSD-3-Clause
"""Independent second implementation of the physics in Python, for comparison with the compiled solver."""
