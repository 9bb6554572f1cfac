// A phone in a process of its own: it writes, says so, and waits to be killed.
import Foundation
import Pitside

let folder = CommandLine.arguments[1]
// Wednesday 25 November 2026, 9:00 at an invented ground one hour east of UTC.
let env = Env(language: "de", zoneMin: 60, hour24: true, nowMs: 1_795_593_600_000)
let book = try Pitside.open(folder: folder, seed: Data((1...32).map(UInt8.init)), env: env)
var set = try book.logSet(env: env).form
set.reps = 8
let route = try book.logToday(env: env, member: "", form: set)
// Half filled in, as somebody left it.
set.reps = 6
try book.keepSet(form: set)
print("written \(route)")
fflush(nil)
Thread.sleep(forTimeInterval: 60)
