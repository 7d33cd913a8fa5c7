-- Every connection writes the note of a run, one cell an edit, each another.
dofile("bench/serve/report.lua")
local thread_count = 0
setup = function(thread)
  thread:set("number", thread_count)
  thread_count = thread_count + 1
end
local written = 0
request = function()
  written = written + 1
  local body = string.format(
    '{"base": 1, "label": "note", "changes": [{"do": "set", "table": "runs", "row": "P-02", "column": "note", "to": "%d-%d"}]}',
    number, written)
  return wrk.format("POST", "/api/jobs/hotel/edits", { ["Content-Type"] = "application/json" }, body)
end
