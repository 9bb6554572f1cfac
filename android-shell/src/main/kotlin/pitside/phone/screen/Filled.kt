package pitside.phone.screen

/**
 * What is filled in on a screen. A tap changes it at once, so that a quick second one goes on from
 * the first and what is saved is what was tapped last; the core's answer takes its place.
 */
class Filled<F : Any> {
    /** `null` until the core first answered. */
    var form: F? = null
        private set

    /** Changes it by a tap; gives what is to be kept. */
    fun change(edit: (F) -> F): F = edit(checkNotNull(form) { "nothing was drawn" }).also { form = it }

    /** Takes the answer to what was asked while `asked` was filled in; gives what is to be drawn: what was tapped since stays. */
    fun answered(asked: F?, form: F): F {
        val now = this.form?.takeIf { it != asked } ?: form
        this.form = now
        return now
    }
}
