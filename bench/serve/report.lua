-- What a run of wrk comes to, in one line; for scripts of their own to load.
done = function(summary, latency, requests)
  local lost = summary.errors.connect + summary.errors.read + summary.errors.write + summary.errors.timeout
  io.write(string.format(
    "  %d answered, %.0f a second; ms: median %.0f, p95 %.0f, p99 %.0f, most %.0f; refused %d, lost %d\n",
    summary.requests - summary.errors.status, summary.requests / summary.duration * 1e6,
    latency:percentile(50) / 1000, latency:percentile(95) / 1000, latency:percentile(99) / 1000, latency.max / 1000,
    summary.errors.status, lost))
end
