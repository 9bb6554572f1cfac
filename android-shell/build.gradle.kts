// The build for a phone. Not run on this project's machine; see README.md.
plugins {
    id("com.android.application") version "8.12.0"
    id("org.jetbrains.kotlin.android") version "2.2.20"
}

android {
    namespace = "pitside.phone"
    compileSdk = 36
    defaultConfig {
        applicationId = "pitside.phone"
        minSdk = 26
        targetSdk = 36
        versionCode = 1
        versionName = "0.1.0"
    }
    compileOptions {
        sourceCompatibility = JavaVersion.VERSION_17
        targetCompatibility = JavaVersion.VERSION_17
    }
    sourceSets["main"].apply {
        kotlin.srcDir("../target/bindings")
        jniLibs.srcDir("../target/jniLibs")
    }
    // Words come from the core, in every language at once.
    androidResources.generateLocaleConfig = false
}

kotlin {
    jvmToolchain(17)
}

dependencies {
    implementation("net.java.dev.jna:jna:5.19.1@aar")
    implementation("com.google.zxing:core:3.5.4")
}
