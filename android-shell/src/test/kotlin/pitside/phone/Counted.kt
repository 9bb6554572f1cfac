package pitside.phone

import java.lang.reflect.InvocationTargetException
import java.lang.reflect.Proxy
import uniffi.pitside_screen.Pitside
import uniffi.pitside_screen.PitsideInterface

/** A book whose calls across the border are counted by name; the calls are the library's own. */
class Counted(private val book: Pitside) {
    val calls = mutableListOf<String>()
    private val answers = mutableListOf<Any>()

    val border: PitsideInterface = Proxy.newProxyInstance(
        PitsideInterface::class.java.classLoader,
        arrayOf(PitsideInterface::class.java),
    ) { _, method, arguments ->
        synchronized(calls) { calls += method.name }
        try {
            method.invoke(book, *(arguments ?: emptyArray())).also { answer -> synchronized(answers) { answer?.let { answers += it } } }
        } catch (e: InvocationTargetException) {
            throw e.targetException
        }
    } as PitsideInterface

    /** What was answered since the last time. */
    fun answered(): List<Any> = synchronized(answers) { answers.toList().also { answers.clear() } }

    /** What was called since the last time. */
    fun taken(): List<String> = synchronized(calls) { calls.toList().also { calls.clear() } }
}
