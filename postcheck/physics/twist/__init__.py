"""Wires in a post that turns or a hinge that folds: strain, lay, cycles, looping, bends, slack and pulling, a module each."""

from __future__ import annotations

from postcheck.physics.twist.bend import (
    bend_strain,
    minimum_bend_radius,
    repeated_bend_radius,
    swing_range,
    swings,
)
from postcheck.physics.twist.coil import coil_length, coil_radius
from postcheck.physics.twist.fold import FOLD_PEAK, fold_length, fold_strain
from postcheck.physics.twist.helix import (
    TwistStrain,
    axial_strain,
    curvature,
    equivalent_strain,
    path_length,
    shear_strain,
    shortest_span,
    slack_needed,
    strain_range,
    torsion,
    working_radius,
)
from postcheck.physics.twist.lay import USUAL_LAY, Lay, lay_of, lay_strain
from postcheck.physics.twist.life import Life, Relation, life, life_together, strain_allowed, strain_borne
from postcheck.physics.twist.loop import LOOP_ROOT, loop_limit
from postcheck.physics.twist.notch import HARDENING, nicked_strain
from postcheck.physics.twist.pull import bends_borne, capstan, pull_limit

__all__ = [
    "FOLD_PEAK",
    "HARDENING",
    "LOOP_ROOT",
    "USUAL_LAY",
    "Lay",
    "Life",
    "Relation",
    "TwistStrain",
    "axial_strain",
    "bend_strain",
    "bends_borne",
    "capstan",
    "coil_length",
    "coil_radius",
    "curvature",
    "equivalent_strain",
    "fold_length",
    "fold_strain",
    "lay_of",
    "lay_strain",
    "life",
    "life_together",
    "loop_limit",
    "minimum_bend_radius",
    "nicked_strain",
    "path_length",
    "pull_limit",
    "repeated_bend_radius",
    "shear_strain",
    "shortest_span",
    "slack_needed",
    "strain_allowed",
    "strain_borne",
    "strain_range",
    "swing_range",
    "swings",
    "torsion",
    "working_radius",
]
