"""A real browser for the tests of pages."""

import shutil

# The browser asks nobody and keeps nothing.
FLAGS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--hide-scrollbars",
)


def opened(profile, *more):
    """Opens Chromium with a profile folder of its own, and with more flags."""
    from selenium import webdriver

    chromium, driver = shutil.which("chromium"), shutil.which("chromedriver")
    assert chromium and driver, "these tests need Debian's chromium and chromium-driver"
    options = webdriver.ChromeOptions()
    options.binary_location = chromium
    for flag in (*FLAGS, *more, f"--user-data-dir={profile}"):
        options.add_argument(flag)
    options.set_capability("goog:loggingPrefs", {"browser": "ALL"})
    return webdriver.Chrome(options=options, service=webdriver.ChromeService(driver))


def show(browser, page, width, scheme="light"):
    size = {"width": width, "height": 900, "deviceScaleFactor": 1, "mobile": width < 600}
    browser.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", size)
    features = [{"name": "prefers-color-scheme", "value": scheme}]
    browser.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": features})
    # What a page before it said, late even, is not this one's.
    browser.get("about:blank")
    browser.get_log("browser")
    browser.get(page.as_uri())
