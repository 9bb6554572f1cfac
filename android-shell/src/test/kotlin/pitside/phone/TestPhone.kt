package pitside.phone

import java.io.File
import java.nio.file.Files
import java.util.concurrent.Executor
import uniffi.pitside_screen.Env
import uniffi.pitside_screen.Pitside
import uniffi.pitside_screen.PitsideInterface

/** The shell with a folder, a key and a clock of the test's; the book and its calls are real. */
open class TestPhone : Phone() {
    val folder: File by lazy { Files.createTempDirectory("phone").toFile() }
    var language: String? = null
    var minutes = 0
    var high = false
    lateinit var counted: Counted

    override fun makeDevice(): Device = object : Device {
        override fun env(): Env = morning(language ?: resources.configuration.locales[0].toLanguageTag(), minutes)
        override fun highContrast() = high
    }

    override fun makeBook(): Book = Executor { it.run() }.let { Book(it, it, ::open) }

    override fun open(): PitsideInterface {
        counted = Counted(Pitside.open(folder.path, SEED, device.env()))
        return counted.border
    }

    override fun onTerminate() {
        super.onTerminate()
        folder.deleteRecursively()
    }
}
