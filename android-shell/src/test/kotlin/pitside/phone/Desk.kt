package pitside.phone

import android.graphics.Bitmap
import android.graphics.BitmapFactory
import java.io.BufferedReader
import java.io.File
import java.net.URI
import java.net.http.HttpClient
import java.net.http.HttpRequest
import java.net.http.HttpResponse
import java.util.concurrent.TimeUnit
import org.junit.Assume.assumeTrue

/** The coach's laptop: the real `pitside` with a book in a folder, on 127.0.0.1. */
class Desk(folder: File) : AutoCloseable {
    private val program = File(LIBRARY, "pitside").also { check(it.canExecute()) { "$it was not built" } }
    private val book = File(folder, "desk")
    private val profile = File(folder, "browser")
    private var serving: Process? = null
    private var said: BufferedReader? = null

    /** Where the page is, `http://127.0.0.1:PORT`, and what opens it. */
    private var page = ""
    private var token = ""

    /** Where phones reach it. */
    var phones = "127.0.0.1:0"
        private set

    private fun command(vararg arguments: String) = ProcessBuilder(program.path, *arguments, "--book", book.path)

    /** Runs a command while the page is closed; gives what it said. */
    fun run(vararg arguments: String): String {
        val process = command(*arguments).redirectErrorStream(true).start()
        process.outputStream.close()
        val said = process.inputStream.bufferedReader().readText()
        check(process.waitFor() == 0) { "${arguments.toList()}: $said" }
        return said
    }

    /** Opens page and listener, the same listener as before. */
    fun serve(vararg more: String) {
        val process = command("serve", *more, "--page-port", "0", "--listen", phones).redirectError(ProcessBuilder.Redirect.DISCARD).start()
        serving = process
        val lines = process.inputStream.bufferedReader().also { said = it }
        for (line in generateSequence { lines.readLine() }) {
            val after = line.substringAfter(':').trim()
            if (line.startsWith("The page:")) {
                page = after.substringBefore("/?token=")
                token = after.substringAfter("/?token=")
            }
            if (line.startsWith("Phones:")) {
                phones = after.substringBefore(',')
                return
            }
        }
        error("it ended without saying where it is")
    }

    fun stop() {
        serving?.destroy()
        serving?.let { check(it.waitFor(30, TimeUnit.SECONDS)) }
        said?.close()
        serving = null
    }

    /** Presses the button that makes an invitation; gives the page that shows it. */
    fun invitationPage(): String {
        val form = ask("GET", "/invite", "").substringAfter("name=\"form\" value=\"").substringBefore('"')
        return ask("POST", "/invite", "form=$form")
    }

    private fun ask(method: String, path: String, body: String): String {
        val request = HttpRequest.newBuilder(URI("$page$path"))
            .header("Cookie", "pitside-${page.substringAfterLast(':')}=$token")
            .header("Origin", page)
            .header("Content-Type", "application/x-www-form-urlencoded")
            .method(method, HttpRequest.BodyPublishers.ofString(body)).build()
        val answer = HttpClient.newHttpClient().send(request, HttpResponse.BodyHandlers.ofString())
        check(answer.statusCode() == 200) { "$method $path: ${answer.statusCode()}" }
        return answer.body()
    }

    /** What Chromium made of a page of the desk. */
    fun seen(path: String): String = chromium("--dump-dom", "$page$path?token=$token")

    /** A picture of it, kept beside those of the phone. */
    fun photographed(path: String, name: String) {
        val folder = System.getenv("PITSIDE_PICTURES") ?: return
        chromium("--screenshot=${File(folder, "$name.png")}", "$page$path?token=$token")
    }

    /** A picture of a page that was kept. */
    fun picture(html: String): Bitmap {
        val file = File(profile.parentFile, "page.html").apply { writeText(html) }
        val picture = File(profile.parentFile, "page.png")
        chromium("--screenshot=${picture.path}", file.toURI().toString())
        return checkNotNull(BitmapFactory.decodeFile(picture.path))
    }

    private fun chromium(vararg arguments: String): String {
        val all = listOf(
            "chromium", "--headless=new", "--no-sandbox", "--disable-gpu", "--no-first-run",
            "--disable-background-networking", "--disable-component-update", "--disable-sync",
            "--window-size=900,1500", "--user-data-dir=${profile.path}",
        )
        val process = try {
            ProcessBuilder(all + arguments).redirectError(ProcessBuilder.Redirect.DISCARD).start()
        } catch (e: java.io.IOException) {
            check(System.getenv("CI") == null) { "chromium is missing: ${e.message}" }
            System.err.println("NOT RUN: what the coach's page shows, since there is no chromium here")
            assumeTrue("chromium", false)
            error("not reached")
        }
        val said = process.inputStream.bufferedReader().readText()
        check(process.waitFor(120, TimeUnit.SECONDS)) { "chromium does not end" }
        return said
    }

    override fun close() {
        serving?.destroyForcibly()?.waitFor()
    }
}
