package pitside.phone.take

import android.graphics.Bitmap
import uniffi.pitside_screen.Crop

/**
 * The pictures of an open clip. It is called on the main thread and answers there; decoding is done
 * elsewhere.
 */
interface Frames : AutoCloseable {
    /** Told each time a picture is ready that was wanted: which frame. */
    var arrived: (Int) -> Unit

    /** Told once where the clip cannot be decoded. */
    var failed: () -> Unit

    /** Which frames are wanted, the most wanted first, and what of them; what is held beyond may go. */
    fun want(frames: List<Int>, area: Area)

    /** A picture that is ready; `null` as long as it is not. */
    fun picture(frame: Int): Bitmap?
}

/** What of a picture is wanted. */
sealed interface Area {
    /** The part that is shown large. */
    data class Part(val crop: Crop) : Area

    /** All of it, small. */
    data object Whole : Area
}
