package pitside.phone

import uniffi.pitside_screen.Env

/** The key of the invented phones. */
val SEED = ByteArray(32) { (it + 1).toByte() }

/** Wednesday 25 November 2026, 9:00 at an invented ground one hour east of UTC. */
fun morning(language: String = "en", minutes: Int = 0) =
    Env(language, 60.toShort(), true, 1_795_593_600_000L + minutes * 60_000L)
