import Foundation
import Pitside
import Testing

/// The real library through the generated Swift.
@Suite struct BorderTests {
    let folder: URL

    init() throws {
        folder = FileManager.default.temporaryDirectory.appendingPathComponent(UUID().uuidString)
        try FileManager.default.createDirectory(at: folder, withIntermediateDirectories: true)
    }

    private func env(_ language: String) -> Env {
        Env(language: language, zoneMin: 60, hour24: true, nowMs: 1_795_593_600_000 + 300_000)
    }

    private func open(_ language: String) throws -> Pitside {
        try Pitside.open(folder: folder.path, seed: Data((1...32).map(UInt8.init)), env: env(language))
    }

    /// Runs the phone until it has written, then kills it; gives the session's route.
    private func afterWriting() throws -> String {
        let phone = Process()
        phone.executableURL = Bundle.main.executableURL!.deletingLastPathComponent().appendingPathComponent("Killed")
        phone.arguments = [folder.path]
        let said = Pipe()
        phone.standardOutput = said
        try phone.run()
        var line = ""
        while !line.hasSuffix("\n") {
            let more = said.fileHandleForReading.availableData
            try #require(!more.isEmpty, "it ended before it had written: \(line)")
            line += String(decoding: more, as: UTF8.self)
        }
        // SIGKILL: nothing is flushed and nothing is closed.
        kill(phone.processIdentifier, SIGKILL)
        phone.waitUntilExit()
        return String(line.dropFirst("written ".count).dropLast())
    }

    @Test func whatWasWrittenAndWhatWasHalfFilledInOutlivesAKill() throws {
        let route = try afterWriting()
        let book = try open("de")
        let today = try book.today(env: env("de"))
        #expect(today.title == "Mi, 25. Nov. 2026")
        #expect(today.sessions.map(\.route) == [route])
        #expect(today.carried.hasPrefix("1 Satz nur auf diesem Gerät"))
        #expect(try book.logSet(env: env("de")).form.reps == 6)
        // The language is the call's, not the book's.
        #expect(try book.today(env: env("en")).actions[0].text == "Go on with the set that is filled in")
    }

    @Test func whatIsRefusedArrivesAsAnErrorThatNamesTheField() throws {
        let book = try open("en")
        var form = try book.logSet(env: env("en")).form
        form.sets = 0
        // The closure of `#expect(throws:)` that looks at the error crashes the compiler of Swift 6.0.
        var refused = ""
        do {
            _ = try book.logToday(env: env("en"), member: "", form: form)
        } catch ScreenError.Refused(let field, _, _) {
            refused = field
        }
        #expect(refused == "sets")
        #expect(try book.today(env: env("en")).sessions.isEmpty, "nothing was begun for it")
        book.letGo()
        #expect(throws: ScreenError.self) { _ = try book.today(env: env("en")) }
    }
}
