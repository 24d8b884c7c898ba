"""Two hundred names that a plan could hold and no document may obey."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

from moveplan.outputs.outlook import Outlook
from moveplan.practice.project import Project

_CORES = (
    "<script>window.broken = true</script>",
    "<img src=x onerror='window.broken = true'>",
    '"><svg onload="window.broken = true">',
    "javascript:window.broken = true",
    "' onmouseover='window.broken = true",
    "</style><script>window.broken = true</script>",
    "</title></head><body onload=window.broken=true>",
    "{{ 7 * 7 }} {% raw %} ${7*7} #{7*7}",
    "<!-- <b> --> ]]> <![CDATA[ &lt;script&gt; &#60;script&#62;",
    "# heading\n- [ ] fake\n\n| a | b |\n***",
    "[text](https://example.invalid) ![](https://example.invalid/x.png) <https://example.invalid>",
    "BEGIN:VEVENT\r\nEND:VCALENDAR; a, b\\n",
    "\u202egnp.exe\u202c \u2066abc\u2069 \u200f",
    "سمكة المهرج אלמוג",
    "🐠🐟🪸 👩\u200d🔬 é\u0301",
    "\x00\x07\x1b[31m\x7f\x85\u2028\u2029",
    "half a pair \ud83d",
    "x" * 400,
    "=cmd|' /C calc'!A0 +1 -1 @sum",
    "'; DROP TABLE tasks; -- \\' \\\" ` $(reboot)",
)
_FRAMES = (
    "{}",
    " {} ",
    "a {} b",
    "{0}{0}",
    "{}\n{{}}",
    "<b>{}",
    "{}&",
    "«{}»",
    "1. {}",
    "{}/",
)
NAMES = tuple(frame.format(core) for core, frame in product(_CORES, _FRAMES))


def hostile(outlook: Outlook) -> Outlook:
    """The same outlook with every text of the plan replaced by a hostile one."""
    project = outlook.project
    names = iter(NAMES * 4)
    phases = dict(zip(dict.fromkeys(task.phase for task in project.network.tasks), NAMES, strict=False))
    tasks = tuple(
        replace(task, title=next(names), steps=tuple(next(names) for _ in range(8)), phase=phases[task.phase])
        for task in project.network.tasks
    )
    links = tuple(replace(link, why=next(names)) for link in project.network.links)
    network = replace(project.network, tasks=tasks, links=links)
    return replace(outlook, project=_texts(replace(project, network=network), names_from=120))


def _texts(project: Project, names_from: int) -> Project:
    names = iter(NAMES[names_from:] + NAMES)
    plan = project.plan
    return replace(
        project,
        plan=replace(
            plan,
            title=next(names),
            file_name=next(names),
            places=tuple(replace(place, name=next(names)) for place in plan.places),
            contacts=tuple(
                replace(one, name=next(names), role=next(names), phone=next(names)) for one in plan.contacts
            ),
        ),
        scheduling=replace(
            project.scheduling,
            people=tuple(replace(person, name=next(names)) for person in project.scheduling.people),
            vehicles=tuple(replace(vehicle, name=next(names)) for vehicle in project.scheduling.vehicles),
            gear=tuple(replace(gear, name=next(names)) for gear in project.scheduling.gear),
        ),
        routes=tuple(
            replace(
                route,
                name=next(names),
                stops=tuple(
                    replace(stop, where=stop.where + NAMES[0], container=stop.container + NAMES[10])
                    for stop in route.stops
                ),
            )
            for route in project.routes
        ),
        loads=tuple(
            replace(load, items=tuple(replace(item, name=next(names)) for item in load.items))
            for load in project.loads
        ),
        assumptions=tuple(
            replace(one, key=next(names), value=next(names), why=next(names)) for one in project.assumptions
        ),
        findings=tuple(
            replace(one, message=next(names), remedy=next(names), where=next(names))
            for one in project.findings
        ),
        cautions=tuple(replace(one, text=next(names), source=next(names)) for one in project.cautions),
    )
