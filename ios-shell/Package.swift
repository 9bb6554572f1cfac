// swift-tools-version: 6.0
// The core for Swift, and the tests of its border. `cargo xtask swift` writes Sources/Pitside and
// Sources/pitside_screenFFI into a copy of this folder and runs the tests there.
import PackageDescription

let package = Package(
    name: "Pitside",
    platforms: [.iOS(.v17), .macOS(.v14)],
    products: [.library(name: "Pitside", targets: ["Pitside"])],
    targets: [
        .systemLibrary(name: "pitside_screenFFI"),
        .target(
            name: "Pitside", dependencies: ["pitside_screenFFI"],
            // What is generated is older than the checks of Swift 6.
            swiftSettings: [.swiftLanguageMode(.v5)],
            linkerSettings: [.linkedLibrary("pitside_bindings")]
        ),
        .executableTarget(name: "Killed", dependencies: ["Pitside"]),
        .testTarget(name: "BorderTests", dependencies: ["Pitside", "Killed"]),
    ]
)
