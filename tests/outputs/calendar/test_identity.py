from __future__ import annotations

from uuid import UUID

from moveplan.outputs.calendar.identity import alarm_uid, calendar_uid, event_uid, to_do_uid, to_dos_uid

PLAN = "5d0f3a52-6b0e-4a53-9f0c-2f6f4a1c8e11"


def test_every_thing_has_its_own_uid() -> None:
    uids = [
        calendar_uid(PLAN), calendar_uid(PLAN, "moving-day"), to_dos_uid(PLAN), to_dos_uid(PLAN, "moving-day"),
        event_uid(PLAN, "drive/1"), event_uid(PLAN, "drive/2"), event_uid("other", "drive/1"),
        to_do_uid(PLAN, "drive/1"), alarm_uid(PLAN, "drive/1"),
    ]  # fmt: skip

    assert len(set(uids)) == len(uids)
    assert {UUID(uid).version for uid in uids} == {5}


def test_uids_are_those_of_earlier_releases() -> None:
    # A change here would double every calendar that was ever exported.
    assert calendar_uid(PLAN) == "0af314f7-9c51-57f0-a597-0a683088daa2"
    assert event_uid(PLAN, "drive/1") == "6d6c27cf-3e2f-5d31-94e0-5cc7387c54a9"
    assert alarm_uid(PLAN, "drive/1") == "57383adc-14a3-59a7-82cd-e567b741e7a9"
    assert to_dos_uid(PLAN) == "eee371f1-a039-5304-ac71-5ec31318e050"
    assert to_do_uid(PLAN, "mix-water") == "872515fd-a177-5985-b3e8-e8dd9080c184"
