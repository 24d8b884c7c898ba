from __future__ import annotations

import pytest

from moveplan.science.cooling import u_value_w_m2_k
from moveplan.science.materials import Material, materials

EVERY_MATERIAL = pytest.mark.parametrize("material", materials().values(), ids=materials())


@EVERY_MATERIAL
def test_every_material_is_sound(material: Material) -> None:
    low, likely, high = material.density_kg_m3
    assert 0 < low <= likely <= high
    assert material.source
    assert material.meaning


@EVERY_MATERIAL
def test_every_conductivity_makes_a_wall(material: Material) -> None:
    if material.conductivity_w_m_k:
        low, likely, high = (u_value_w_m2_k([(0.02, k)]) for k in material.conductivity_w_m_k)
        assert low <= likely <= high < 1.0 / 0.13
