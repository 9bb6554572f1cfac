package pitside.phone.screen

import android.content.Context
import android.content.res.ColorStateList
import android.os.Build
import android.view.View
import android.view.ViewGroup.LayoutParams.MATCH_PARENT
import android.widget.LinearLayout
import android.widget.ProgressBar
import android.widget.TextView
import pitside.phone.R
import pitside.phone.exchange.HandOver
import pitside.phone.exchange.Work
import pitside.phone.look.Look
import pitside.phone.look.Parts
import pitside.phone.look.add
import uniffi.pitside_screen.ExchangeEnd
import uniffi.pitside_screen.Job

/** A screen on which long work is begun, watched, called off, and its end read. */
abstract class Watched(frame: Frame, private val context: Context) : Screen(frame, context) {
    protected val work: Work get() = frame.phone.work
    protected val env get() = frame.phone.device.env()

    private var told: TextView? = null
    private var bar: ProgressBar? = null
    private val again = Runnable { tell() }

    init {
        view.addOnAttachStateChangeListener(object : View.OnAttachStateChangeListener {
            override fun onViewAttachedToWindow(v: View) {
                work.ended = ::load
                tell()
            }

            override fun onViewDetachedFromWindow(v: View) {
                view.removeCallbacks(again)
                work.ended = {}
            }
        })
    }

    /** Draws what goes on, or how the last came out; gives whether there was anything of it. */
    protected fun watched(page: Parts.Page, cancel: String, close: String, share: String, closed: (ExchangeEnd) -> Unit): Boolean {
        told = null
        bar = null
        val job = work.job
        val end = work.end
        when {
            job != null -> goesOn(page, job, cancel)
            end != null -> ended(page, end, close, share, closed)
            else -> return false
        }
        return true
    }

    private fun goesOn(page: Parts.Page, job: Job, cancel: String) {
        told = parts.text(job.told(env)).apply { accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_POLITE }
            .also { page.body.add(it, look) }
        bar = ProgressBar(context, null, android.R.attr.progressBarStyleHorizontal).apply {
            progressTintList = ColorStateList.valueOf(look.colours.accent)
            indeterminateTintList = progressTintList
            importantForAccessibility = View.IMPORTANT_FOR_ACCESSIBILITY_NO
        }.also { page.body.addView(it, LinearLayout.LayoutParams(MATCH_PARENT, look.dp(24))) }
        page.foot.add(parts.wide(cancel) { work.cancel(); tell() }.apply { id = R.id.cancel }, look, Look.Space.SMALL)
        tell()
    }

    private fun ended(page: Parts.Page, end: ExchangeEnd, close: String, share: String, closed: (ExchangeEnd) -> Unit) {
        val lines = listOf(parts.text(end.text)) + listOf(end.more).filter { it.isNotEmpty() }.map(parts::softText)
        val row = parts.row(lines, listOf(end.text, end.more).filter { it.isNotEmpty() }.joinToString(" "))
        row.accessibilityLiveRegion = View.ACCESSIBILITY_LIVE_REGION_POLITE
        page.body.add(if (end.done) row else parts.barred(row), look)
        if (end.path.isNotEmpty()) {
            page.foot.add(parts.wide(share) { context.startActivity(HandOver.share(end.path)) }, look, Look.Space.SMALL)
        }
        val done = { work.seen(); closed(end) }
        page.foot.add(if (end.path.isEmpty()) parts.wide(close, done) else parts.plain(close, done), look, Look.Space.SMALL)
    }

    /** Says how far it is, as long as somebody looks. */
    private fun tell() {
        view.removeCallbacks(again)
        val job = work.job ?: return
        val progress = job.progress()
        told?.let { shown -> job.told(env).let { if (shown.text.toString() != it) shown.text = it } }
        bar?.apply {
            isIndeterminate = progress.of == 0UL
            max = progress.of.toInt()
            this.progress = progress.moved.toInt()
        }
        view.postDelayed(again, EVERY_MS)
    }

    /** What a person is asked for before a device on the local network is called. */
    protected fun localNetwork(): List<String> = if (Build.VERSION.SDK_INT >= LOCAL_NETWORK_SINCE) listOf(LOCAL_NETWORK) else emptyList()

    private companion object {
        const val EVERY_MS = 250L

        /** In the framework from Android 17 on. */
        const val LOCAL_NETWORK = "android.permission.ACCESS_LOCAL_NETWORK"
        const val LOCAL_NETWORK_SINCE = 37
    }
}
