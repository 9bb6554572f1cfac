package pitside.phone

import java.io.File
import java.nio.file.Files
import java.util.concurrent.Executor
import uniffi.pitside_screen.Env
import uniffi.pitside_screen.Pitside
import uniffi.pitside_screen.PitsideInterface
import uniffi.pitside_screen.spoken

/** The shell with a folder, a key and a clock of the test's; the book and its calls are real. */
open class TestPhone : Phone() {
    val folder: File by lazy { Files.createTempDirectory("phone").toFile() }
    var key: ByteArray = SEED
    var clock: (String, Int) -> Env = ::morning
    var language: String? = null
    var minutes = 0
    var high = false
    lateinit var counted: Counted

    /** Puts the book of somebody in the demo's squad behind the screens; before the first is shown. */
    fun demo(who: String) {
        key = DemoBook.copy(who, folder)
        clock = DemoBook::evening
    }

    override fun makeDevice(): Device = object : Device {
        override fun env(): Env {
            val tag = language ?: resources.configuration.locales[0].toLanguageTag()
            return clock(chosen?.let { spoken(it, tag) } ?: tag, minutes)
        }

        override fun highContrast() = high
    }

    override fun makeBook(): Book = Executor { it.run() }.let { Book(it, it, ::open) }

    override fun makeWorker(): Executor = Executor { it.run() }

    override fun open(): PitsideInterface {
        val opened = Pitside.open(folder.path, key, device.env())
        // Asked before calls are counted, so that tests count those of screens alone.
        chosen = opened.chosen()
        counted = Counted(opened)
        return counted.border
    }

    /** Nothing is left of the process; the next call opens the book again. */
    fun forget() {
        book.ask({ it.letGo() }) {}
        Book::class.java.getDeclaredField("opened").apply { isAccessible = true }.set(book, null)
        chosen = null
    }

    /** The system would end the process. */
    override fun erase() {
        folder.deleteRecursively()
    }

    override fun onTerminate() {
        super.onTerminate()
        folder.deleteRecursively()
    }
}
