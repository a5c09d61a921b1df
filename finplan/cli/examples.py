"""One example of every command, for its help; tests hold that each can be typed so."""

from __future__ import annotations

FIRST_EXAMPLE = "finplan new stand.yaml, and then: finplan sheet stand.yaml -o stand.pdf"
"""Of the program."""
EXAMPLES = {
    "check": "finplan check table.yaml",
    "areas": "finplan areas table.yaml --units us",
    "materials": 'finplan materials table.yaml bench.yaml --sure "95 %"',
    "sanding": "finplan sanding table.yaml",
    "timetable": 'finplan timetable table.yaml --from 2027-03-01 --deliver "19 Mar 2027 15:00"',
    "systems": 'finplan systems table.yaml --deliver "19 Mar 2027"',
    "safety": "finplan safety table.yaml --shop shop.yaml",
    "catalogue": "finplan catalogue hardwax-oil",
    "new": "finplan new stand.yaml",
    "fields": "finplan fields circumference",
    "guide": "finplan guide tutorial",
    "schema": "finplan schema piece",
    "open": "finplan open",
    "sheet": "finplan sheet table.yaml -o table.pdf",
    "plan": "finplan plan table.yaml -o plan.json",
    "buy": "finplan buy jobs --weeks 6",
    "quote": "finplan quote table.yaml --customer offer.pdf",
    "tags": "finplan tags table.yaml -o tags.pdf",
    "calendar": "finplan calendar table.yaml -o table.ics",
    "draw": "finplan draw table.yaml -o drawings",
    "demo": "finplan demo",
    "done": 'finplan done table.yaml 7 8-10 --at 08:40 --used "85 ml"',
    "replan": 'finplan replan table.yaml --air "9 degC 60 %"',
    "fault": "finplan fault table.yaml 12 runs",
    "learnt": "finplan learnt",
    "review": "finplan review table.yaml --pdf review.pdf",
    "ledger": "finplan ledger export finplan.ledger -o record.json",
    "ledger export": "finplan ledger export finplan.ledger -o record.json",
    "ledger import": "finplan ledger import record.json --ledger finplan.ledger",
    "stock": "finplan stock",
    "stock receive": 'finplan stock receive hardwax-oil "1 l" --price 61.50',
    "stock open": "finplan stock open 3",
    "stock count": 'finplan stock count 3 "400 ml"',
    "stock discard": 'finplan stock discard 3 --note "it has a skin"',
    "stock take-over": "finplan stock take-over --shop shop.yaml",
    "help": "finplan help timetable",
}
"""By the command's name."""
