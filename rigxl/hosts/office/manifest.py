"""The manifest that a person or an administrator installs: an add-in only manifest with a shared runtime."""

from __future__ import annotations

import uuid
from xml.sax.saxutils import escape, quoteattr

import rigxl
from rigxl.hosts.office.icons import SIZES
from rigxl.hosts.office.metadata import NAMESPACE

ABOUT = (
    "Worksheet functions for schedules of rigging hardware. They do not replace the maker's instructions, "
    "the local code or a licensed engineer."
)

_TEXT = """<?xml version="1.0" encoding="UTF-8"?>
<OfficeApp xmlns="http://schemas.microsoft.com/office/appforoffice/1.1"
  xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance"
  xmlns:bt="http://schemas.microsoft.com/office/officeappbasictypes/1.0"
  xsi:type="TaskPaneApp">
  <Id>{identity}</Id>
  <Version>{version}</Version>
  <ProviderName>rigxl</ProviderName>
  <DefaultLocale>en-US</DefaultLocale>
  <DisplayName DefaultValue="rigxl"/>
  <Description DefaultValue={about}/>
  <IconUrl DefaultValue="{base}/icon-32.png"/>
  <HighResolutionIconUrl DefaultValue="{base}/icon-64.png"/>
  <SupportUrl DefaultValue="{base}/pane.html"/>
  <AppDomains>
    <AppDomain>{origin}</AppDomain>
  </AppDomains>
  <Hosts>
    <Host Name="Workbook"/>
  </Hosts>
  <Requirements>
    <Sets DefaultMinVersion="1.1">
      <Set Name="SharedRuntime" MinVersion="1.1"/>
      <Set Name="CustomFunctionsRuntime" MinVersion="1.3"/>
    </Sets>
  </Requirements>
  <DefaultSettings>
    <SourceLocation DefaultValue="{base}/pane.html"/>
  </DefaultSettings>
  <Permissions>ReadWriteDocument</Permissions>
  <VersionOverrides xmlns="http://schemas.microsoft.com/office/taskpaneappversionoverrides"
    xsi:type="VersionOverridesV1_0">
    <Hosts>
      <Host xsi:type="Workbook">
        <Runtimes>
          <Runtime resid="Pane.Url" lifetime="long"/>
        </Runtimes>
        <AllFormFactors>
          <ExtensionPoint xsi:type="CustomFunctions">
            <Script>
              <SourceLocation resid="Script.Url"/>
            </Script>
            <Page>
              <SourceLocation resid="Pane.Url"/>
            </Page>
            <Metadata>
              <SourceLocation resid="Metadata.Url"/>
            </Metadata>
            <Namespace resid="Namespace"/>
          </ExtensionPoint>
        </AllFormFactors>
        <DesktopFormFactor>
          <ExtensionPoint xsi:type="PrimaryCommandSurface">
            <OfficeTab id="TabFormulas">
              <Group id="rigxl.Group">
                <Label resid="Group.Label"/>
                <Icon>{icons}</Icon>
                <Control xsi:type="Button" id="rigxl.Pane">
                  <Label resid="Pane.Label"/>
                  <Supertip>
                    <Title resid="Pane.Label"/>
                    <Description resid="Pane.Tip"/>
                  </Supertip>
                  <Icon>{icons}</Icon>
                  <Action xsi:type="ShowTaskpane">
                    <TaskpaneId>rigxl.Pane</TaskpaneId>
                    <SourceLocation resid="Pane.Url"/>
                  </Action>
                </Control>
              </Group>
            </OfficeTab>
          </ExtensionPoint>
        </DesktopFormFactor>
      </Host>
    </Hosts>
    <Resources>
      <bt:Images>{images}</bt:Images>
      <bt:Urls>
        <bt:Url id="Script.Url" DefaultValue="{base}/functions.js?v={version}"/>
        <bt:Url id="Metadata.Url" DefaultValue="{base}/functions.json?v={version}"/>
        <bt:Url id="Pane.Url" DefaultValue="{base}/pane.html"/>
      </bt:Urls>
      <bt:ShortStrings>
        <bt:String id="Namespace" DefaultValue="{namespace}"/>
        <bt:String id="Group.Label" DefaultValue="Rigging"/>
        <bt:String id="Pane.Label" DefaultValue="Rigging functions"/>
      </bt:ShortStrings>
      <bt:LongStrings>
        <bt:String id="Pane.Tip" DefaultValue="Lists the rigging functions with their help and examples."/>
      </bt:LongStrings>
    </Resources>
  </VersionOverrides>
</OfficeApp>
"""


def manifest(origin: str) -> str:
    """The manifest for an add-in served from this origin; another origin is another add-in.

    The version's four parts are rigxl's own, so that a program that has cached the files asks again.
    """
    base = f"{escape(origin)}/office"
    ribbon = [size for size in SIZES if size != 64]
    images = (f'<bt:Image id="Icon.{size}" DefaultValue="{base}/icon-{size}.png"/>' for size in ribbon)
    icons = (f'<bt:Image size="{size}" resid="Icon.{size}"/>' for size in ribbon)
    return _TEXT.format(
        identity=uuid.uuid5(uuid.NAMESPACE_URL, origin.lower()),
        version=f"{rigxl.__version__}.0",
        about=quoteattr(ABOUT),
        base=base,
        origin=escape(origin),
        namespace=NAMESPACE,
        icons="".join(icons),
        images="".join(images),
    )
