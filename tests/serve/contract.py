# Holds answers of the server against openapi.json: contract.py OPENAPI ANSWERS. Every operation must have been
# answered as described, at least once without refusal. Ends with 0, or with 2 and what is wrong.
import json
import pathlib
import sys

import jsonschema

description, answers = (json.loads(pathlib.Path(name).read_text(encoding="utf-8")) for name in sys.argv[1:3])
operations = {
    operation["operationId"]: operation for methods in description["paths"].values() for operation in methods.values()
}
problems = []
answered = set()


def schema_of(content, kind):
    """The schema for this type of content; None: bytes of any kind."""
    for name, described in content.items():
        if kind == name or name == "application/octet-stream":
            return described["schema"] if kind == "application/json" and name == kind else None
    problems.append(f"type {kind} is not described: {', '.join(content)}")
    return None


for answer in answers:
    name, status = answer["operation"], str(answer["status"])
    responses = operations[name]["responses"]
    if status not in responses and int(status) < 400:
        problems.append(f"{name}: status {status} is not described")
        continue
    if int(status) < 400:
        answered.add(name)
    response = responses.get(status, responses["default"])
    if not response.get("content"):
        continue
    schema = schema_of(response["content"], answer["type"].split(";")[0])
    if schema is None:
        continue
    whole = {**schema, "components": description["components"]}
    for problem in list(jsonschema.Draft202012Validator(whole).iter_errors(answer["body"]))[:5]:
        place = "/".join(map(str, problem.absolute_path))
        problems.append(f"{name} {status}: {place}: {problem.message[:300]}")
problems += [f"{name}: was not answered" for name in operations if name not in answered]
print("\n".join(problems))
sys.exit(2 if problems else 0)
