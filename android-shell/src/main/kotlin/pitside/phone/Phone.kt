package pitside.phone

import android.app.ActivityManager
import android.app.Application
import android.content.Intent
import android.os.Handler
import android.os.Looper
import java.io.File
import java.util.concurrent.Executor
import java.util.concurrent.Executors
import pitside.phone.exchange.HandOver
import pitside.phone.exchange.Outside
import pitside.phone.exchange.Work
import pitside.phone.exchange.WorkService
import pitside.phone.exchange.failedExchange
import pitside.phone.screen.Screen
import pitside.phone.share.Export
import pitside.phone.take.AndroidClips
import pitside.phone.take.ClipRead
import pitside.phone.take.Clips
import uniffi.pitside_screen.Chosen
import uniffi.pitside_screen.ExchangeEnd
import uniffi.pitside_screen.Headings
import uniffi.pitside_screen.Job
import uniffi.pitside_screen.Labels
import uniffi.pitside_screen.Pitside
import uniffi.pitside_screen.PitsideInterface
import uniffi.pitside_screen.headings
import uniffi.pitside_screen.labels

/** The process: one book, whatever comes and goes on the screen. */
open class Phone : Application() {
    val device: Device by lazy { makeDevice() }
    val book: Book by lazy { makeBook() }
    val outside: Outside by lazy { makeOutside() }

    /** What could not be saved, wherever the person is by now. */
    val unsaved = Unsaved { book }

    /** The screen that ended because the phone is being turned, and its route. */
    var turned: Pair<String, Screen>? = null

    /** The syncs and their files that go on beside the screens. */
    val work: Work<ExchangeEnd> by lazy { makeWork() }

    /** The file of all data. */
    val exporting: Work<ExchangeEnd> by lazy { Work(book, makeWorker(), onMain(), { Job.ofExport() }, ::exchangeFailed) }

    /** The clips that are read before they are marked. */
    val reading: Work<ClipRead> by lazy { Work(book, makeWorker(), onMain(), { Job.ofClip() }, { ClipRead.failed(it) }) }
    val clips: Clips by lazy { makeClips() }
    val pulse: Pulse by lazy { makePulse() }
    val reminders: Reminders by lazy { AlarmReminders(this) }
    private var words: Pair<String, Labels>? = null
    private var above: Pair<String, Headings>? = null

    /** What a person chose for this phone; `null` until the book was asked. */
    @Volatile var chosen: Chosen? = null

    override fun onCreate() {
        super.onCreate()
        HandOver.forget(this)
        Export.forget(this)
    }

    /** Opens the book and asks it for what was chosen; then, or where that fails, calls back. */
    fun ready(then: () -> Unit) {
        if (chosen != null) return then()
        book.ask({ core -> chosen ?: core.chosen() }) { answer ->
            if (answer is Answer.Good) chosen = answer.value
            then()
        }
    }

    /** The words of the forms, asked for once a language. */
    fun words(): Labels {
        val env = device.env()
        words?.let { (language, labels) -> if (language == env.language) return labels }
        return labels(env).also { words = env.language to it }
    }

    /** What stands above the parts of screens, asked for once a language. */
    fun headings(): Headings {
        val env = device.env()
        above?.let { (language, headings) -> if (language == env.language) return headings }
        return headings(env).also { above = env.language to it }
    }

    /** Everything of this app goes, also what is in the key store, and with it the process: the system does it. */
    open fun erase() {
        getSystemService(ActivityManager::class.java).clearApplicationUserData()
    }

    protected open fun makeDevice(): Device = AndroidDevice(this) { chosen }

    protected open fun makeClips(): Clips = AndroidClips(this)

    protected open fun makeOutside(): Outside = Outside.of(this)

    private fun exchangeFailed(why: Exception) = failedExchange(why, device.env())

    private fun makeWork(): Work<ExchangeEnd> = Work(book, Executors.newSingleThreadExecutor(), onMain(), { Job() }, ::exchangeFailed) {
        try {
            startForegroundService(Intent(this, WorkService::class.java))
        } catch (_: IllegalStateException) {
            // The system lets nobody come to the foreground right now: the work goes on unseen.
        }
    }

    /** A thread for work that is over in seconds; no service keeps the process for it, and where that dies the person begins it again. */
    protected open fun makeWorker(): Executor = Executors.newSingleThreadExecutor()

    private fun onMain(): Executor = Handler(Looper.getMainLooper()).let { main -> Executor { main.post(it) } }

    protected open fun makePulse(): Pulse = AndroidPulse(this)

    protected open fun makeBook(): Book = Book(Executors.newSingleThreadExecutor(), onMain(), ::open)

    /** Opens the book, or makes it at the first start; no other device is needed for it. */
    protected open fun open(): PitsideInterface {
        val folder = File(noBackupFilesDir, "book").apply { mkdirs() }
        return Pitside.open(folder.path, KeystoreSeed(File(noBackupFilesDir, "seed")).seed(), device.env())
    }
}
