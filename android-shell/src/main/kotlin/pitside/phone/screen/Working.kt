package pitside.phone.screen

import android.content.Context
import android.content.res.ColorStateList
import android.view.View
import android.view.ViewGroup.LayoutParams.MATCH_PARENT
import android.widget.LinearLayout
import android.widget.ProgressBar
import android.widget.TextView
import pitside.phone.R
import pitside.phone.exchange.Work
import pitside.phone.look.Look
import pitside.phone.look.Parts
import pitside.phone.look.add
import uniffi.pitside_screen.Job

/** A screen on which long work is begun, watched, and called off. */
abstract class Working<E : Any>(frame: Frame, private val context: Context, protected val work: Work<E>) : Screen(frame, context) {
    protected val env get() = frame.phone.device.env()

    /** Whether the app is in front. */
    protected var looked = true
        private set

    private var told: TextView? = null
    private var bar: ProgressBar? = null
    private val again = Runnable { tell() }

    init {
        view.addOnAttachStateChangeListener(object : View.OnAttachStateChangeListener {
            override fun onViewAttachedToWindow(v: View) {
                work.ended = ::workEnded
                tell()
            }

            override fun onViewDetachedFromWindow(v: View) {
                view.removeCallbacks(again)
                work.ended = {}
            }
        })
    }

    override fun start() {
        looked = true
    }

    override fun stop() {
        looked = false
    }

    /** The work ended while somebody watched. */
    protected open fun workEnded() = load()

    /** Draws how far it is, with what calls it off, or only leaves it where it is not `own`. */
    protected fun goesOn(page: Parts.Page, job: Job, cancel: String, own: Boolean = true, off: () -> Unit = {}) {
        told = parts.text(job.told(env)).apply { accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_POLITE }
            .also { page.body.add(it, look) }
        bar = ProgressBar(context, null, android.R.attr.progressBarStyleHorizontal).apply {
            max = BAR
            progressTintList = ColorStateList.valueOf(look.colours.accent)
            indeterminateTintList = progressTintList
            importantForAccessibility = View.IMPORTANT_FOR_ACCESSIBILITY_NO
        }.also { page.body.addView(it, LinearLayout.LayoutParams(MATCH_PARENT, look.dp(24))) }
        // It stands where the button was that began it: a second tap of cold fingers is no wish.
        val button = parts.plain(cancel) {
            if (own) work.cancel()
            tell()
            off()
        }
        page.foot.add(button.apply { id = R.id.cancel }, look, Look.Space.SMALL)
        tell()
    }

    /** Nothing of it is drawn any more. */
    protected fun nothingGoesOn() {
        told = null
        bar = null
    }

    /** Says how far it is, as long as somebody looks. */
    private fun tell() {
        view.removeCallbacks(again)
        val job = work.job ?: return
        val progress = job.progress()
        told?.let { shown -> job.told(env).let { if (shown.text.toString() != it) shown.text = it } }
        bar?.apply {
            isIndeterminate = progress.of == 0UL
            // The bytes of a clip are more than a bar can count.
            if (!isIndeterminate) this.progress = (progress.moved * BAR.toULong() / progress.of).toInt()
        }
        view.postDelayed(again, EVERY_MS)
    }

    private companion object {
        const val EVERY_MS = 250L
        const val BAR = 1_000
    }
}
