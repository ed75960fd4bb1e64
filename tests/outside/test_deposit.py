"""Deposit at stores that others wrote: moto's S3 server and wsgidav, both on loopback, with lines that break.

A small relay stands between the program and the store where a line has to break: it cuts the connection after so many
octets, so many times. What arrived is read with boto3, and with plain files.
"""

import hashlib
import http.client
import json
import os
import re
import shutil
import socket
import subprocess
import threading
import time
import zipfile

import boto3
import pytest
from cheroot import wsgi
from moto.server import ThreadedMotoServer
from wsgidav.wsgidav_app import WsgiDAVApp

from conftest import PROGRAM, run

SECRET = "a-very-secret-word"
USER = "ottilie-user"


@pytest.fixture(scope="module")
def studio(tmp_path_factory):
    """Two finished pieces; one carries enough noise for a bundle of several parts."""
    home = tmp_path_factory.mktemp("deposit") / "studio"
    (home / "studio.yaml").parent.mkdir(parents=True)
    (home / "studio.yaml").write_text("studio: Brackwater Tapestry\nweaver: Ottilie Brackwater\n")
    for slug in ["large-water", "small-water"]:
        piece = home / "pieces" / slug
        piece.mkdir(parents=True)
        (piece / "piece.yaml").write_text(
            f"title: {slug}\nmade: 2026\nwarp: {{fibre: {{cotton: 100}}}}\nweft: [{{fibre: {{wool: 100}}}}]\n"
            "measured: {height: 20 cm, width: 30 cm}\n"
        )
    (home / "pieces/large-water/drawing.bin").write_bytes(os.urandom(30 << 20))
    run(PROGRAM, "finish", home, "--quiet")
    return home


def deposit(home, url, *more, code=0, **environment):
    """Runs a deposit and makes sure that no secret is in anything it says."""
    command = [str(PROGRAM), "deposit", str(home), url, *more]
    if url.startswith("s3:"):
        usual = {"AWS_ACCESS_KEY_ID": USER, "AWS_SECRET_ACCESS_KEY": SECRET, "AWS_REGION": "us-east-1"}
    else:
        usual = {"OFFLOOM_WEBDAV_USER": USER, "OFFLOOM_WEBDAV_PASSWORD": SECRET}
    done = subprocess.run(command, capture_output=True, text=True, env=usual | environment, timeout=120)
    said = done.stdout + done.stderr
    assert done.returncode == code, said
    assert SECRET not in said and USER not in said, said
    return said


def here(home):
    return {p.name: hashlib.sha256(p.read_bytes()).hexdigest() for p in (home / "finished/bundles").glob("*.zip")}


@pytest.fixture(autouse=True)
def forget(studio):
    (studio / "finished/deposits.json").unlink(missing_ok=True)


class Relay:
    """Hands octets on, and cuts connections that have carried more than `after` octets upwards, `cuts` of them; with
    `dies`, all of them once that much has been carried by all together."""

    def __init__(self, port, after, cuts=0, dies=False):
        self.to, self.after, self.cuts, self.dies = port, after, cuts, dies
        self.all = 0
        self.cut = 0
        self.listener = socket.create_server(("127.0.0.1", 0))
        self.port = self.listener.getsockname()[1]
        threading.Thread(target=self.serve, daemon=True).start()

    def serve(self):
        while True:
            try:
                near, _ = self.listener.accept()
            except OSError:
                return
            far = socket.create_connection(("127.0.0.1", self.to))
            threading.Thread(target=self.pump, args=(near, far, True), daemon=True).start()
            threading.Thread(target=self.pump, args=(far, near, False), daemon=True).start()

    def pump(self, source, sink, upwards):
        passed = 0
        try:
            while octets := source.recv(65536):
                passed += len(octets)
                self.all += len(octets) if upwards else 0
                if self.dies and self.all > self.after:
                    break
                if upwards and passed > self.after and self.cut < self.cuts:
                    self.cut += 1
                    break
                sink.sendall(octets)
        except OSError:
            pass
        for end in (source, sink):
            try:
                end.shutdown(socket.SHUT_RDWR)
            except OSError:
                pass

    def close(self):
        self.listener.close()


@pytest.fixture()
def s3():
    server = ThreadedMotoServer(ip_address="127.0.0.1", port=0, verbose=False)
    server.start()
    _, port = server.get_host_and_port()
    http.client.HTTPConnection("127.0.0.1", port).request("POST", "/moto-api/reset")
    client = boto3.client(
        "s3", endpoint_url=f"http://127.0.0.1:{port}", aws_access_key_id="x", aws_secret_access_key="y",
        region_name="us-east-1",
    )
    client.create_bucket(Bucket="looms")
    client.port = port
    yield client
    server.stop()


def at(port):
    return {"AWS_ENDPOINT_URL": f"http://127.0.0.1:{port}"}


def held(s3, prefix):
    listed = s3.list_objects_v2(Bucket="looms", Prefix=prefix).get("Contents", [])
    read = {o["Key"]: s3.get_object(Bucket="looms", Key=o["Key"])["Body"].read() for o in listed}
    return {key.removeprefix(prefix): hashlib.sha256(octets).hexdigest() for key, octets in read.items()}


def unfinished(s3):
    return s3.list_multipart_uploads(Bucket="looms").get("Uploads", [])


def test_bundles_reach_an_s3_store_once_in_parts_and_are_read_back(studio, s3):
    said = deposit(studio, "s3://looms/tapestries", "--dry-run", **at(s3.port))
    assert "2 would be sent" in said and held(s3, "tapestries/") == {}
    said = deposit(studio, "s3://looms/tapestries", **at(s3.port))
    assert "2 sent" in said
    assert held(s3, "tapestries/") == here(studio)
    large = s3.head_object(Bucket="looms", Key="tapestries/large-water.r1.zip")
    # Source, from memory: an S3 object sent in n parts has an ETag that ends in -n.
    assert large["ETag"].strip('"').endswith("-4")
    assert "2 there already" in deposit(studio, "s3://looms/tapestries", **at(s3.port))
    (studio / "finished/deposits.json").unlink()
    said = deposit(studio, "s3://looms/tapestries", **at(s3.port))
    assert said.count("is there, read back") == 2
    assert unfinished(s3) == []


def test_another_object_of_a_bundles_name_is_never_overwritten(studio, s3):
    length = (studio / "finished/bundles/large-water.r1.zip").stat().st_size
    other = {"large-water.r1.zip": b"\0" * length, "small-water.r1.zip": b"else"}
    for name, octets in other.items():
        s3.put_object(Bucket="looms", Key=name, Body=octets)
    said = deposit(studio, "s3://looms", code=1, **at(s3.port))
    assert said.count("another file of this name") == 2
    assert held(s3, "") == {n: hashlib.sha256(o).hexdigest() for n, o in other.items()}
    assert unfinished(s3) == []


def test_a_name_taken_while_the_parts_are_on_their_way_is_not_overwritten(studio, s3):
    class Late(Relay):
        """Puts another object in the way once the sending has begun."""

        def pump(self, source, sink, upwards):
            if upwards and not self.cut:
                def meddle():
                    while not unfinished(s3):
                        time.sleep(0.01)
                    s3.put_object(Bucket="looms", Key="large-water.r1.zip", Body=b"first come")
                self.cut = 1
                threading.Thread(target=meddle, daemon=True).start()
            if upwards:
                time.sleep(0.3)
            super().pump(source, sink, upwards)

    relay = Late(s3.port, 1 << 40)
    said = deposit(studio, "s3://looms", "--piece", "large-water", code=1, **at(relay.port))
    assert "another file of this name" in said
    assert held(s3, "") == {"large-water.r1.zip": hashlib.sha256(b"first come").hexdigest()}
    assert unfinished(s3) == []
    relay.close()


def test_a_line_that_breaks_three_times_delays_and_loses_nothing(studio, s3):
    relay = Relay(s3.port, 3 << 20, 3)
    said = deposit(studio, "s3://looms/x", **at(relay.port))
    assert relay.cut == 3 and "2 sent" in said
    assert held(s3, "x/") == here(studio)
    relay.close()


def test_a_line_that_breaks_for_good_is_told_and_the_next_run_goes_on_where_it_stopped(studio, s3):
    relay = Relay(s3.port, 27 << 20, dies=True)
    said = deposit(studio, "s3://looms/x", code=2, **at(relay.port))
    assert "the line to s3://looms/x broke" in said
    assert held(s3, "x/") == {}
    relay.close()
    begun = unfinished(s3)
    assert len(begun) == 1
    memory = json.loads((studio / "finished/deposits.json").read_text())
    far = memory["places"]["s3://looms/x"]["under_way"]["large-water.r1.zip"]
    arrived = s3.list_parts(Bucket="looms", Key=begun[0]["Key"], UploadId=begun[0]["UploadId"]).get("Parts", [])
    assert far["upload"] == begun[0]["UploadId"] and 0 < len(far["parts"]) <= len(arrived)
    counting = Relay(s3.port, 1 << 40)
    counted = []
    counting.pump = lambda source, sink, upwards, pump=Relay.pump: pump(
        counting, Counted(source, counted) if upwards else source, sink, upwards
    )
    assert "2 sent" in deposit(studio, "s3://looms/x", **at(counting.port))
    assert held(s3, "x/") == here(studio) and unfinished(s3) == []
    bundle = (studio / "finished/bundles/large-water.r1.zip").stat().st_size
    assert sum(counted) < bundle - len(far["parts"]) * far["part_octets"] + (2 << 20)
    counting.close()


class Counted:
    """A socket that counts what it receives."""

    def __init__(self, inner, counted):
        self.inner, self.counted = inner, counted

    def recv(self, most):
        octets = self.inner.recv(most)
        self.counted.append(len(octets))
        return octets

    def __getattr__(self, name):
        return getattr(self.inner, name)


def test_a_run_that_is_killed_leaves_nothing_under_a_final_name_and_the_next_goes_on(studio, s3):
    slow = Relay(s3.port, 1 << 40)
    slow.pump = lambda source, sink, upwards, pump=Relay.pump: pump(slow, Slow(source), sink, upwards)
    command = [str(PROGRAM), "deposit", str(studio), "s3://looms"]
    keys = {"AWS_ACCESS_KEY_ID": USER, "AWS_SECRET_ACCESS_KEY": SECRET, "AWS_REGION": "us-east-1"} | at(slow.port)
    running = subprocess.Popen(command, env=keys, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    memory = studio / "finished/deposits.json"
    for _ in range(600):
        if memory.is_file() and '"0"' in memory.read_text():
            break
        time.sleep(0.05)
    running.kill()
    running.wait()
    slow.close()
    assert held(s3, "") == {}
    begun = unfinished(s3)
    assert len(begun) == 1
    assert "2 sent" in deposit(studio, "s3://looms", **at(s3.port))
    assert held(s3, "") == here(studio) and unfinished(s3) == []


class Slow(Counted):
    """A socket on a thin line."""

    def __init__(self, inner):
        super().__init__(inner, [])

    def recv(self, most):
        time.sleep(0.01)
        return self.inner.recv(most)


def test_a_store_that_forgot_a_sending_gets_it_anew(studio, s3):
    relay = Relay(s3.port, 27 << 20, dies=True)
    deposit(studio, "s3://looms", code=2, **at(relay.port))
    relay.close()
    for begun in unfinished(s3):
        s3.abort_multipart_upload(Bucket="looms", Key=begun["Key"], UploadId=begun["UploadId"])
    assert "2 sent" in deposit(studio, "s3://looms", **at(s3.port))
    assert held(s3, "") == here(studio)


def test_a_missing_bucket_and_missing_keys_are_told(studio, s3):
    for more in [[], ["--dry-run"]]:
        said = deposit(studio, "s3://nowhere", *more, code=2, **at(s3.port))
        assert "no such place" in said, said
    said = deposit(studio, "s3://looms", code=2, AWS_ACCESS_KEY_ID="", **at(s3.port))
    assert "AWS_ACCESS_KEY_ID" in said
    said = deposit(studio, "s3://looms", code=2, **at(1))
    assert "broke" in said


@pytest.fixture()
def dav(tmp_path):
    shelf = tmp_path / "dav"
    (shelf / "shelf").mkdir(parents=True)
    app = WsgiDAVApp({
        "provider_mapping": {"/": str(shelf)},
        "simple_dc": {"user_mapping": {"*": {USER: {"password": SECRET}}}},
        "http_authenticator": {"accept_basic": True, "accept_digest": False, "default_to_digest": False},
        "verbose": 0,
        "logging": {"enable": False},
    })
    server = wsgi.Server(("127.0.0.1", 0), app)
    server.prepare()
    threading.Thread(target=server.serve, daemon=True).start()
    server.shelf = shelf / "shelf"
    server.url = f"http://127.0.0.1:{server.bind_addr[1]}/shelf"
    yield server
    server.stop()


def on(shelf):
    return {p.name: hashlib.sha256(p.read_bytes()).hexdigest() for p in shelf.iterdir()}


def test_bundles_reach_a_webdav_folder_whole_and_once(studio, dav):
    assert "2 would be sent" in deposit(studio, dav.url, "--dry-run")
    assert on(dav.shelf) == {}
    assert "2 sent" in deposit(studio, dav.url)
    assert on(dav.shelf) == here(studio)
    assert "2 there already" in deposit(studio, dav.url)
    assert deposit(studio, dav.url, "--reread").count("read back") == 2


def test_a_webdav_folder_keeps_what_has_the_name(studio, dav):
    (dav.shelf / "small-water.r1.zip").write_bytes(b"else")
    said = deposit(studio, dav.url, code=1)
    assert "small-water.r1.zip: there is another file" in said and "1 sent" in said
    assert (dav.shelf / "small-water.r1.zip").read_bytes() == b"else"


def test_a_wrong_password_and_a_missing_folder_are_told(studio, dav):
    said = deposit(studio, dav.url, code=2, OFFLOOM_WEBDAV_PASSWORD="another-secret")
    assert "access refused" in said and "another-secret" not in said
    assert "no such place" in deposit(studio, dav.url + "/none", code=2)
    assert on(dav.shelf) == {}


def test_a_broken_line_leaves_no_half_bundle_under_its_name(studio, dav):
    port = dav.bind_addr[1]
    relay = Relay(port, 5 << 20, 1)
    url = dav.url.replace(str(port), str(relay.port))
    assert "2 sent" in deposit(studio, url)
    assert relay.cut == 1 and on(dav.shelf) == here(studio)
    relay.close()
    for path in dav.shelf.iterdir():
        path.unlink()
    (studio / "finished/deposits.json").unlink()
    relay = Relay(port, 5 << 20, dies=True)
    url = dav.url.replace(str(port), str(relay.port))
    assert "broke" in deposit(studio, url, "--piece", "large-water", code=2)
    assert "large-water.r1.zip" not in on(dav.shelf)
    relay.close()
