package pitside.phone

import java.io.File

/** A `main` of these tests in a JVM of its own, with the library of a folder. */
fun ownProcess(main: Class<*>, library: String, vararg arguments: String): Process = ProcessBuilder(
    File(System.getProperty("java.home"), "bin/java").path, "-XX:TieredStopAtLevel=1",
    "-Djna.library.path=$library",
    // Surefire hides the class path in a jar of its own.
    "-cp", System.getProperty("surefire.test.class.path") ?: System.getProperty("java.class.path"),
    main.name, *arguments,
).redirectError(ProcessBuilder.Redirect.INHERIT).apply { environment()["RUST_BACKTRACE"] = "0" }.start()

/** Where the library is that phones load. */
val LIBRARY: String = System.getProperty("jna.library.path")
