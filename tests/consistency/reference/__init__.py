# SPDX-License-Identifier: BSD-3-Clause
"""Independent second implementation of the physics in Python (NumPy, SciPy), for comparison with the compiled solver.

Written from the equations alone, with plain differential equations and root finders: ``film`` (film law), ``draw``
(film path), ``stack`` (film on a load that gives, storage), ``pull_test``, ``plane_stress`` (tensor model),
``make_gold`` (stores results in ``cases/``).
Tests: ``HOOPFIELD_COMMAND=... python -m pytest tests/consistency -m "not slow"``.
"""
