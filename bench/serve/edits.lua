-- Every connection writes the note of a run, one cell an edit.
request = function()
  local body = string.format(
    '{"base": 1, "label": "note", "changes": [{"do": "set", "table": "runs", "row": "P-02", "column": "note", "to": "%d"}]}',
    math.random(1000000000))
  return wrk.format("POST", "/api/jobs/hotel/edits", { ["Content-Type"] = "application/json" }, body)
end
