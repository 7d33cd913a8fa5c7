# Checks JSON against a schema of schemas/ and the schema itself: plan_validate.py SCHEMAS FILE [NAME]; NAME is
# plan unless another is given. Ends with 0, or with 2 and what is wrong.
import json
import pathlib
import sys

import jsonschema

schemas, answer = map(pathlib.Path, sys.argv[1:3])
name = f"{sys.argv[3] if len(sys.argv) > 3 else 'plan'}.schema.json"
schema = json.loads((schemas / name).read_text(encoding="utf-8"))
jsonschema.Draft202012Validator.check_schema(schema)
findings = json.loads((schemas / "findings.schema.json").read_text(encoding="utf-8"))
resolver = jsonschema.RefResolver(name, schema, store={"findings.schema.json": findings})
validator = jsonschema.Draft202012Validator(schema, resolver=resolver)
problems = list(validator.iter_errors(json.loads(answer.read_text(encoding="utf-8"))))
for problem in problems[:20]:
    print("/".join(map(str, problem.absolute_path)), problem.message)
sys.exit(2 if problems else 0)
