Attribute VB_Name = "rigxl_functions"
' The rigging functions for this workbook. Made by: rigxl addin desktop. Do not edit.
' They do not replace the maker's instructions, the local code or a licensed engineer.
Option Explicit

Private Function RigxlAnswer(name As String, given As Variant) As Variant
    Dim found As Variant, row As Long, column As Long
    On Error GoTo failed
    found = XLPy.CallUDF("rigxl.hosts.desktop.wire", "rigxl_wire", RigxlCall(name, given), _
        ThisWorkbook, Application.Caller)
    If Not IsArray(found) Then GoTo failed
    For row = LBound(found, 1) To UBound(found, 1)
        For column = LBound(found, 2) To UBound(found, 2)
            found(row, column) = RigxlShown(found(row, column))
        Next column
    Next row
    If UBound(found, 1) = LBound(found, 1) And UBound(found, 2) = LBound(found, 2) Then
        RigxlAnswer = found(LBound(found, 1), LBound(found, 2))
    Else
        RigxlAnswer = found
    End If
    Exit Function
failed:
    RigxlAnswer = CVErr(xlErrNA)
End Function

Private Function RigxlShown(value As Variant) As Variant
    RigxlShown = value
    If IsEmpty(value) Or IsNull(value) Then RigxlShown = CVErr(xlErrNA)
    If VarType(value) <> vbString Then Exit Function
    If value = ChrW(1) & "VALUE" Then RigxlShown = CVErr(xlErrValue): Exit Function
    If value = "" Or Left$(value, 1) = ChrW(1) Then RigxlShown = CVErr(xlErrNA)
End Function

Private Function RigxlCall(name As String, given As Variant) As Variant
    Dim made() As Variant, at As Long
    ReDim made(0 To UBound(given) - LBound(given) + 1)
    made(0) = name
    For at = LBound(given) To UBound(given)
        made(at - LBound(given) + 1) = given(at)
    Next at
    RigxlCall = made
End Function

Private Function RigxlGiven(Optional given As Variant) As Variant
    Dim cells As Variant, row As Long, column As Long
    If IsMissing(given) Then
        RigxlGiven = ChrW(1) & "left out"
        Exit Function
    End If
    If TypeName(given) = "Range" Then
        If given.Areas.Count > 1 Then
            RigxlGiven = ChrW(1) & "#REF!"
            Exit Function
        End If
        cells = given.Value2
    Else
        cells = given
    End If
    If IsArray(cells) Then
        cells = RigxlRows(cells)
        For row = LBound(cells, 1) To UBound(cells, 1)
            For column = LBound(cells, 2) To UBound(cells, 2)
                cells(row, column) = RigxlCell(cells(row, column))
            Next column
        Next row
        RigxlGiven = cells
    Else
        RigxlGiven = RigxlCell(cells)
    End If
End Function

Private Function RigxlRows(cells As Variant) As Variant
    Dim made() As Variant, at As Long, last As Long
    On Error GoTo flat
    last = UBound(cells, 2)
    RigxlRows = cells
    Exit Function
flat:
    ReDim made(1 To 1, LBound(cells) To UBound(cells))
    For at = LBound(cells) To UBound(cells)
        made(1, at) = cells(at)
    Next at
    RigxlRows = made
End Function

Private Function RigxlCell(value As Variant) As Variant
    If IsError(value) Then
        RigxlCell = ChrW(1) & RigxlErrorName(value)
    ElseIf IsEmpty(value) Or IsNull(value) Then
        RigxlCell = ChrW(1) & "blank"
    ElseIf VarType(value) = vbString Then
        RigxlCell = IIf(Len(value) = 0, ChrW(1) & "blank", value)
    Else
        RigxlCell = value
    End If
End Function

Private Function RigxlErrorName(value As Variant) As String
    Select Case value
        Case CVErr(xlErrDiv0): RigxlErrorName = "#DIV/0!"
        Case CVErr(xlErrNA): RigxlErrorName = "#N/A"
        Case CVErr(xlErrName): RigxlErrorName = "#NAME?"
        Case CVErr(xlErrNull): RigxlErrorName = "#NULL!"
        Case CVErr(xlErrNum): RigxlErrorName = "#NUM!"
        Case CVErr(xlErrRef): RigxlErrorName = "#REF!"
        Case Else: RigxlErrorName = "#VALUE!"
    End Select
End Function

' For a button: checks the open workbook and brings the marks back into it.
Public Sub RigxlCheckThisWorkbook()
    RunPython "import rigxl.hosts.desktop.check as check; check.check_open_workbook()"
End Sub
