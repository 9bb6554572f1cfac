package pitside.phone.take

import android.net.Uri
import pitside.phone.Phone
import uniffi.pitside_screen.ChosenClip
import uniffi.pitside_screen.Job

/** How the reading of a clip ended; called off where there is neither a clip nor a reason. */
class ClipRead private constructor(
    /** Where it is; `null` where it was not even looked for. */
    val place: Uri?,
    /** It was chosen, not only opened again. */
    val choosing: Boolean,
    /** What the core said of it. */
    val chosen: ChosenClip? = null,
    /** It is open: [Clips.known] has it. */
    val open: Boolean = false,
    /** Why it could not be read. */
    val why: Exception? = null,
) {
    companion object {
        fun failed(why: Exception) = ClipRead(null, true, why = why)

        /**
         * Reads a clip that a person chose and puts it onto the list of the book, in the book's turn.
         * The right to read it again is given back where it was not read. Where something speaks against it
         * the person decides, and a right that was given back once is not had again.
         */
        fun choosing(phone: Phone, place: Uri, anyway: Boolean, job: Job): ClipRead {
            val env = phone.device.env()
            val file = phone.clips.found(place)
            val read = trying(place, true) {
                val clip = phone.clips.read(file.place, job) ?: return@trying ClipRead(place, true)
                ClipRead(place, true, phone.book.inTurn { it.chooseClip(env, clip, file, anyway) }, open = true)
            }
            read.chosen?.left.orEmpty().forEach(phone.clips::letGo)
            if (read.chosen == null) {
                val listed = phone.book.inTurn { it.takes(env) }
                if ((listed.later + listed.done).none { it.place == file.place }) phone.clips.letGo(file.place)
            }
            return read
        }

        /** Reads a clip of the list once more, to be marked. */
        fun again(phone: Phone, place: Uri, job: Job): ClipRead =
            trying(place, false) { ClipRead(place, false, open = phone.clips.read(place.toString(), job) != null) }

        private fun trying(place: Uri, choosing: Boolean, read: () -> ClipRead): ClipRead = try {
            read()
        } catch (e: Exception) {
            ClipRead(place, choosing, why = e)
        }
    }
}
