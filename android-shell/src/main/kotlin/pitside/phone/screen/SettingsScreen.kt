package pitside.phone.screen

import android.content.Context
import android.content.Intent
import android.view.View
import android.widget.LinearLayout
import java.io.File
import pitside.phone.look.Look
import pitside.phone.look.add
import pitside.phone.share.Export
import uniffi.pitside_screen.Setting
import uniffi.pitside_screen.Settings

/** What is chosen for this phone, and what can be done with what is on it. */
class SettingsScreen(frame: Frame, private val context: Context) : Watched(frame, context, frame.phone.exporting) {
    override fun load() = ask({ it.settings(frame.phone.device.env()) }) { redraw(draw(it)) }

    private fun draw(settings: Settings): View {
        val page = parts.page()
        val body = page.body
        body.addView(parts.title(settings.title))
        for (setting in settings.settings) choose(body, setting)
        if (settings.private.isNotEmpty()) body.add(parts.text(settings.private), look, Look.Space.LARGE)
        for (link in settings.sharing.filter { frame.draws(it.route) }) body.add(parts.plain(link.text) { frame.open(link.route) }, look, Look.Space.SMALL)
        if (settings.export.isNotEmpty()) {
            body.add(parts.text(settings.exportAbout), look, Look.Space.LARGE)
            val watched = watched(page, settings.cancel, settings.close, settings.share) { load() }
            if (watched) closeFoot(page) else body.add(parts.plain(settings.export) { export() }, look, Look.Space.SMALL)
        }
        body.add(parts.text(settings.eraseAbout), look, Look.Space.LARGE)
        body.add(parts.plain(settings.erase.text) { frame.open(settings.erase.route) }, look, Look.Space.SMALL)
        return page.view
    }

    private fun choose(body: LinearLayout, setting: Setting) {
        body.add(parts.label(setting.label), look)
        val choices = setting.choices.map { choice ->
            parts.choice(choice.text, choice.chosen) { choose(setting.id, choice.id) }.apply { contentDescription = "${setting.label}: ${choice.text}" }
        }
        body.add(parts.choices(choices), look, 4)
        if (setting.about.isNotEmpty()) body.add(parts.softText(setting.about), look, 4)
    }

    private fun choose(setting: String, choice: String) =
        ask({ it.choose(setting, choice) }, always = frame::chosen, saves = true) {}

    /** Writes all into a file. */
    private fun export() {
        // The file that is being written, or was and is not passed on yet, stays.
        if (work.job != null || work.end != null) return
        val file = Export.file(context, env.nowMs)
        work.begin { core, job -> core.exportAll(env, file.path, job) }
        load()
    }

    /** Whoever waited for the file chooses at once whom to give it to; who looks at another app finds it here. */
    override fun workEnded() {
        val end = work.end
        if (end != null && end.done && looked) {
            work.seen()
            context.startActivity(passOn(end.path))
        }
        load()
    }

    override fun passOn(path: String): Intent = Export.share(File(path))
}
