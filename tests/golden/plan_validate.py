# Checks a plan's JSON against schemas/plan.schema.json and the schema itself: plan_validate.py SCHEMAS PLAN
import json
import pathlib
import sys

import jsonschema

schemas, plan = map(pathlib.Path, sys.argv[1:])
schema = json.loads((schemas / "plan.schema.json").read_text(encoding="utf-8"))
jsonschema.Draft202012Validator.check_schema(schema)
findings = json.loads((schemas / "findings.schema.json").read_text(encoding="utf-8"))
resolver = jsonschema.RefResolver("plan.schema.json", schema, store={"findings.schema.json": findings})
validator = jsonschema.Draft202012Validator(schema, resolver=resolver)
problems = list(validator.iter_errors(json.loads(plan.read_text(encoding="utf-8"))))
for problem in problems[:20]:
    print("/".join(map(str, problem.absolute_path)), problem.message)
sys.exit(1 if problems else 0)
