package pitside.phone

import java.io.FileNotFoundException
import pitside.phone.screen.NotRead
import uniffi.pitside_screen.Env
import uniffi.pitside_screen.Failure
import uniffi.pitside_screen.ScreenException
import uniffi.pitside_screen.failure

/** Why a call failed, in the words of the phone's language. What the system says of a file, the core says in its words. */
fun Exception.inWords(env: Env): Failure = failure(
    env,
    when (val why = (this as? NotRead)?.cause ?: this) {
        is ScreenException -> why
        // Its keeper deleted it, or took back the right to read it.
        is FileNotFoundException, is SecurityException -> ScreenException.NotFound("file")
        else -> null
    },
)
