//! A server started for one test, and its bucket as somebody else with the key sees it.

use std::io::{Read, Write};
use std::net::{TcpListener, TcpStream};
use std::path::PathBuf;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use futures_util::StreamExt;
use object_store::aws::AmazonS3Builder;
use object_store::azure::MicrosoftAzureBuilder;
use object_store::path::Path;
use object_store::{Attributes, ObjectStore, ObjectStoreExt};

use super::azure;
use super::google;

/// The key of every server here: a name and a secret, which is base64 because Azure's are.
pub(crate) const KEY: (&str, &str) = ("AKIAROOMSROOMSROOMS", "YS1zZWNyZXQtb2YtdGhlc2UtdGVzdHMtb25seQ==");

/// What makes a request look signed.
pub(crate) const SIGNED: &str = "Authorization: AWS4-HMAC-SHA256 Credential=AKIAROOMSROOMSROOMS/20261125/us-east-1/s3/aws4_request, \
    SignedHeaders=host, Signature=0\r\n";

/// Which server it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Which {
    /// Takes any key.
    Moto,
    /// Checks every signature.
    S3sFs,
    /// Checks every signature.
    Azurite,
    /// moto, asked as Google's storage is.
    MotoAsGoogle,
}

impl Which {
    pub(crate) fn is_s3(self) -> bool {
        matches!(self, Self::Moto | Self::S3sFs)
    }

    /// Whether it serves nothing to whoever has no key.
    pub(crate) fn wants_a_key(self) -> bool {
        matches!(self, Self::S3sFs | Self::Azurite)
    }
}

pub(crate) struct Server {
    pub(crate) which: Which,
    process: Child,
    /// Where the server itself is.
    port: u16,
    /// Where the program finds it.
    door: u16,
    folder: tempfile::TempDir,
}

impl Server {
    /// Starts the server that the environment names, with an empty bucket "rooms".
    pub(crate) fn start() -> Self {
        let named = std::env::var("AFTERHUE_SERVER").expect("AFTERHUE_SERVER=KIND:PATH; tests/full.sh sets it");
        let (kind, path) = named.split_once(':').expect("a kind and a path");
        let which = match kind {
            "moto" => Which::Moto,
            "s3s-fs" => Which::S3sFs,
            "azurite" => Which::Azurite,
            "moto-gs" => Which::MotoAsGoogle,
            kind => panic!("no server {kind}"),
        };
        let folder = tempfile::tempdir().expect("a folder");
        let port = TcpListener::bind("127.0.0.1:0").and_then(|free| free.local_addr()).expect("a free port").port();
        let mut command = Command::new(path);
        match which {
            Which::Moto | Which::MotoAsGoogle => command.args(["-H", "127.0.0.1", "-p", &port.to_string()]),
            Which::S3sFs => {
                std::fs::create_dir(folder.path().join("rooms")).expect("a bucket");
                command.args(["--access-key", KEY.0, "--secret-key", KEY.1, "--host", "127.0.0.1"]);
                command.args(["--port", &port.to_string()]).arg(folder.path())
            }
            Which::Azurite => {
                command.env("AZURITE_ACCOUNTS", format!("{}:{}", KEY.0, KEY.1)).current_dir(folder.path());
                command.args(["--silent", "--disableTelemetry", "--inMemoryPersistence"]);
                command.args(["--blobHost", "127.0.0.1", "--blobPort", &port.to_string()])
            }
        };
        let process = command.stdout(Stdio::null()).stderr(Stdio::null()).spawn().expect("the server starts");
        let mut server = Self { which, process, port, door: port, folder };
        let until = Instant::now() + Duration::from_secs(60);
        while TcpStream::connect(("127.0.0.1", port)).is_err() {
            assert!(Instant::now() < until, "the server never opened its port");
            std::thread::sleep(Duration::from_millis(50));
        }
        let made = match which {
            Which::S3sFs => return server,
            Which::Moto | Which::MotoAsGoogle => server.ask("PUT /rooms", SIGNED),
            Which::Azurite => {
                let (line, headers) = azure::make_container(KEY, "rooms");
                server.ask(&line, &headers)
            }
        };
        assert!(made.starts_with("HTTP/1.1 20"), "{made}");
        if which == Which::MotoAsGoogle {
            server.door = google::door(port);
        }
        server
    }

    /// Asks in HTTP written out here: the answer's head and body.
    pub(crate) fn ask(&self, line: &str, headers: &str) -> String {
        let mut stream = TcpStream::connect(("127.0.0.1", self.port)).expect("connected");
        let host = format!("127.0.0.1:{}", self.port);
        write!(stream, "{line} HTTP/1.1\r\nHost: {host}\r\n{headers}Content-Length: 0\r\nConnection: close\r\n\r\n")
            .expect("asked");
        let mut answer = Vec::new();
        stream.read_to_end(&mut answer).expect("answered");
        String::from_utf8_lossy(&answer).into_owned()
    }

    /// The address of a bucket and a folder in it, of this kind of store.
    pub(crate) fn address(&self, rest: &str) -> String {
        let scheme = match self.which {
            Which::Moto | Which::S3sFs => "s3",
            Which::Azurite => "az",
            Which::MotoAsGoogle => "gs",
        };
        format!("{scheme}://{rest}")
    }

    pub(crate) fn environment(&self, key: (&str, &str)) -> Vec<(&'static str, String)> {
        self.environment_at(self.door, key)
    }

    /// What a person would set for a server at this port.
    pub(crate) fn environment_at(&self, port: u16, key: (&str, &str)) -> Vec<(&'static str, String)> {
        match self.which {
            Which::Moto | Which::S3sFs => vec![
                ("AWS_ENDPOINT", format!("http://127.0.0.1:{port}")),
                ("AWS_ALLOW_HTTP", "true".to_owned()),
                ("AWS_REGION", "us-east-1".to_owned()),
                ("AWS_ACCESS_KEY_ID", key.0.to_owned()),
                ("AWS_SECRET_ACCESS_KEY", key.1.to_owned()),
            ],
            Which::Azurite => vec![
                ("AZURE_STORAGE_ENDPOINT", format!("http://127.0.0.1:{port}/{}", key.0)),
                ("AZURE_ALLOW_HTTP", "true".to_owned()),
                ("AZURE_STORAGE_ACCOUNT_NAME", key.0.to_owned()),
                ("AZURE_STORAGE_ACCOUNT_KEY", key.1.to_owned()),
            ],
            Which::MotoAsGoogle => vec![
                ("GOOGLE_SERVICE_ACCOUNT", self.pass(port).display().to_string()),
                ("GOOGLE_ALLOW_HTTP", "true".to_owned()),
            ],
        }
    }

    /// A service account's file that names this server and asks nobody for a pass.
    fn pass(&self, port: u16) -> PathBuf {
        let path = self.folder.path().join(format!("{port}.json"));
        let said = format!(
            "{{\"private_key\":\"\",\"private_key_id\":\"\",\"client_email\":\"\",\"disable_oauth\":true,\"gcs_base_url\":\"http://127.0.0.1:{port}\"}}"
        );
        std::fs::write(&path, said).expect("written");
        path
    }

    /// The bucket as somebody else with the key sees it; moto's as S3's, also where the program is at Google's door.
    fn bucket(&self) -> Box<dyn ObjectStore> {
        if self.which == Which::Azurite {
            let builder = MicrosoftAzureBuilder::new().with_container_name("rooms").with_account(KEY.0);
            let builder = builder.with_access_key(KEY.1).with_allow_http(true);
            let builder = builder.with_endpoint(format!("http://127.0.0.1:{}/{}", self.port, KEY.0));
            return Box::new(builder.build().expect("a client"));
        }
        let builder = AmazonS3Builder::new().with_bucket_name("rooms").with_region("us-east-1").with_allow_http(true);
        let builder = builder.with_endpoint(format!("http://127.0.0.1:{}", self.port));
        Box::new(builder.with_access_key_id(KEY.0).with_secret_access_key(KEY.1).build().expect("a client"))
    }

    /// How many objects lie in the bucket.
    pub(crate) fn count(&self) -> usize {
        let bucket = self.bucket();
        alone(async { bucket.list(None).fold(0, |count, file| async move { count + usize::from(file.is_ok()) }).await })
    }

    pub(crate) fn reads(&self, name: &str) -> Option<String> {
        let bucket = self.bucket();
        let bytes = alone(async { bucket.get(&Path::from(format!("care/{name}"))).await.ok()?.bytes().await.ok() })?;
        Some(String::from_utf8(bytes.to_vec()).expect("text"))
    }

    /// What a file carries, by its whole name.
    pub(crate) fn attributes(&self, name: &str) -> Attributes {
        let bucket = self.bucket();
        alone(bucket.get(&Path::from(name))).expect("there").attributes
    }

    pub(crate) fn edits(&self, name: &str, text: &str) {
        let bucket = self.bucket();
        let bytes = text.as_bytes().to_vec();
        alone(async { bucket.put(&Path::from(format!("care/{name}")), bytes.into()).await }).expect("edited");
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        let _ = self.process.kill();
        let _ = self.process.wait();
    }
}

fn alone<T>(what: impl Future<Output = T>) -> T {
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().expect("a runtime");
    runtime.block_on(what)
}
