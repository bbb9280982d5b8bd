# SPDX-License-Identifier: BSD-3-Clause
"""A wrapped stack of tiers in transit, from event to event. Written from the equations alone."""
